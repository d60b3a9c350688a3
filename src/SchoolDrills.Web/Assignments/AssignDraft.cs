using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Web.Assignments;

/// <summary>What is chosen on the page that assigns, until it is assigned.</summary>
public sealed class AssignDraft
{
    /// <summary>Students times drills that the server answers at once about what was before.</summary>
    private const int PairsLookedAt = 200;

    /// <summary>Airspeed that the aeroplane brought; what was typed is nobody's but the instructor's.</summary>
    private double? airspeedOfAircraft;

    public List<PersonSummary> Students { get; init; } = [];

    /// <summary>In the order in which they are to be flown.</summary>
    public List<DrillSummary> Drills { get; init; } = [];

    public DateTime? DueOn { get; set; }

    public string? Notes { get; set; }

    public double? HeadingMagDeg { get; set; }

    public double? AltitudeFt { get; set; }

    public double? AirspeedKt { get; set; }

    public bool Mirrored { get; set; }

    public bool HalfRate { get; set; }

    public double? WindFromDegTrue { get; set; }

    public double? WindKt { get; set; }

    /// <summary>Slug of the aeroplane's profile; null for none.</summary>
    public string? Aircraft { get; private set; }

    /// <summary>Leaves out who has a drill to fly already.</summary>
    public bool SkipOpen { get; set; } = true;

    public DateOnly? DueDay => DueOn is { } day ? DateOnly.FromDateTime(day) : null;

    /// <summary>Half rate is of drills that turn.</summary>
    public bool MayBeHalfRate => Drills.Exists(d => d.Turns);

    /// <summary>Those of whom the server is asked what was before; the last ones of a whole school are left out.</summary>
    public IReadOnlyList<PersonSummary> LookedAt => [.. Students.Take(PairsLookedAt / Math.Max(1, Drills.Count))];

    /// <summary>What an instructor set for entry and day; null where all is as the drill has it.</summary>
    public AssignmentOverrides? Overrides
    {
        get
        {
            var set = new AssignmentOverrides(
                HeadingMagDeg,
                AltitudeFt,
                AirspeedKt,
                Mirrored ? true : null,
                HalfRate && MayBeHalfRate ? true : null,
                Aircraft: Aircraft,
                WindFromDegTrue: WindFromDegTrue,
                WindKt: WindKt
            );
            return set == new AssignmentOverrides() ? null : set;
        }
    }

    public CreateAssignment Asked =>
        new(
            [.. Students.Select(s => s.Id)],
            null,
            DueDay,
            string.IsNullOrWhiteSpace(Notes) ? null : Notes,
            Overrides,
            SkipOpen,
            [.. Drills.Select(d => d.Slug)]
        );

    /// <summary>What is still to be chosen, a sentence; null where it can be assigned.</summary>
    public string? Missing =>
        (Students.Count, Drills.Count) switch
        {
            (0, 0) => T["Choose at least one student and a drill."].Value,
            (0, _) => T["Choose at least one student."].Value,
            (_, 0) => T["Choose a drill."].Value,
            _ => null,
        };

    public void Toggle(DrillSummary drill)
    {
        if (Drills.RemoveAll(d => d.Slug == drill.Slug) == 0)
            Drills.Add(drill);
    }

    /// <summary>An aeroplane with the airspeed it usually flies drills at, unless another was typed.</summary>
    public void Choose(AircraftProfile? plane)
    {
        Aircraft = plane?.Slug;
        if (AirspeedKt is null || AirspeedKt == airspeedOfAircraft)
            AirspeedKt = airspeedOfAircraft = plane?.DrillAirspeedKt;
    }

    /// <summary>What cannot be as it is set, a sentence; null where all can.</summary>
    public string? Problem(DateOnly today) =>
        WindFromDegTrue is null != WindKt is null ? T["Give both the wind's direction and its speed, or neither."].Value
        : DueDay < today ? T["The due day has passed: choose today or later."].Value
        : null;
}
