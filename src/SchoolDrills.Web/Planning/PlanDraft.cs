using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Planning;

namespace SchoolDrills.Web.Planning;

/// <summary>A typed line of wind; it counts once height, direction and speed are there.</summary>
public sealed class WindRow
{
    public double? AltitudeFt { get; set; }

    public double? FromDegTrue { get; set; }

    public double? SpeedKt { get; set; }

    public bool IsEmpty => AltitudeFt is null && FromDegTrue is null && SpeedKt is null;

    public static WindRow Of(WindLevel level) =>
        new()
        {
            AltitudeFt = Math.Round(level.AltitudeFt),
            FromDegTrue = Math.Round(level.FromDegTrue),
            SpeedKt = Math.Round(level.SpeedKt, 1),
        };
}

/// <summary>
/// What a plan is made with while one types, drags and tries, and the plan that comes of it: the engine runs in the page, so that a
/// change is drawn at once.
/// </summary>
public sealed class PlanDraft
{
    private readonly DrillTemplate template;
    private readonly IReadOnlyList<AircraftProfile> aircraft;
    private readonly TimeProvider clock;

    public PlanDraft(
        DrillTemplate template,
        DrillEntry entry,
        IReadOnlyList<AircraftProfile> aircraft,
        IReadOnlyList<SchoolArea> areas,
        TimeProvider clock
    )
    {
        // What is to be asked or checked moves no aeroplane; a student's template has no scripts to resolve.
        this.template = template with
        {
            LoadTasks = [],
            Checks = [],
        };
        this.aircraft = aircraft;
        this.clock = clock;
        Areas = areas;
        (HeadingMagDeg, AltitudeFt, AirspeedKt) = (entry.HeadingMagDeg, entry.AltitudeFt, entry.AirspeedKt);
        (Mirrored, HalfRate) = (entry.Mirrored, entry.HalfRate);
        // The one whose usual airspeed is the drill's.
        AircraftId = aircraft.MinBy(a => Math.Abs(a.DrillAirspeedKt - entry.AirspeedKt))?.Slug;
        Choose(areas is [var nearest, ..] ? nearest : null);
    }

    /// <summary>Areas to choose from: the school's, and that of a kept plan where the school has it no more.</summary>
    public IReadOnlyList<SchoolArea> Areas { get; private set; }

    public SchoolArea? Area { get; private set; }

    public string? AircraftId { get; set; }

    public double? HeadingMagDeg { get; set; }

    public double? AltitudeFt { get; set; }

    public double? AirspeedKt { get; set; }

    public bool Mirrored { get; set; }

    public bool HalfRate { get; set; }

    public double? QnhHpa { get; set; }

    public double? OatC { get; set; }

    public double? FloorFt { get; set; }

    public double? CeilingFt { get; set; }

    public List<WindRow> Winds { get; } = [new()];

    /// <summary>Wind at the entry that is being tried instead of the typed one; null for the typed one.</summary>
    public (double FromDegTrue, double SpeedKt)? Tried { get; private set; }

    /// <summary>Start; null until one is chosen or suggested.</summary>
    public LatLon? Start { get; private set; }

    /// <summary>The plan; null where it cannot be made, and <see cref="Problem"/> says why.</summary>
    public DrillPlan? Plan { get; private set; }

    public string? Problem { get; private set; }

    public double DeclinationDeg { get; private set; }

    public AircraftProfile? Aircraft => aircraft.FirstOrDefault(a => a.Slug == AircraftId);

    /// <summary>Wind at the entry as planned with, from and speed.</summary>
    public (double FromDegTrue, double SpeedKt) EntryWind
    {
        get
        {
            if (Tried is { } tried)
                return tried;
            var (eastKt, northKt) = new WindsAloft(Typed).At(EntryAltitudeFt);
            return WindsAloft.FromAndSpeed(eastKt, northKt);
        }
    }

    public double EntryAltitudeFt => AltitudeFt ?? template.Entry.AltitudeFt;

    /// <summary>Winds as they stand in the rows.</summary>
    public IReadOnlyList<WindLevel> Typed =>
        [
            .. Winds
                .Where(w => w is { FromDegTrue: not null, SpeedKt: not null })
                .Select(w => new WindLevel(w.AltitudeFt ?? EntryAltitudeFt, w.FromDegTrue!.Value, w.SpeedKt!.Value))
                .DistinctBy(w => w.AltitudeFt),
        ];

    /// <summary>All of it, as it is kept and sent.</summary>
    public PlanDrill Asked =>
        new(
            AircraftId ?? "",
            HeadingMagDeg,
            AltitudeFt,
            AirspeedKt,
            Mirrored,
            OatC: OatC,
            QnhHpa: QnhHpa,
            Area: Area?.Polygon,
            Start: Start,
            FloorFt: FloorFt,
            Winds: Blowing(),
            HalfRate: HalfRate,
            CeilingFt: CeilingFt,
            AreaName: Area?.Name
        );

    /// <summary>Takes up a plan that was kept.</summary>
    public void Take(PlanDrill kept)
    {
        AircraftId = kept.AircraftId;
        var entry = kept.Entry(template);
        (HeadingMagDeg, AltitudeFt, AirspeedKt) = (entry.HeadingMagDeg, entry.AltitudeFt, entry.AirspeedKt);
        (Mirrored, HalfRate, QnhHpa, OatC) = (entry.Mirrored, entry.HalfRate, kept.QnhHpa, kept.OatC);
        Put(kept is { WindKt: { } kt, WindFromDegTrue: { } from } ? [new WindLevel(entry.AltitudeFt, from, kt)] : kept.Winds ?? []);
        if (kept.Area is { } polygon)
        {
            var known = Areas.FirstOrDefault(a => a.Name == kept.AreaName && Same(a.Polygon, polygon));
            if (known is null)
            {
                var name = kept.AreaName is { Length: > 0 } was ? T["{0}, as planned", was] : T["The area as planned"];
                known = new SchoolArea(Guid.Empty, name, kept.FloorFt ?? 0, kept.CeilingFt, polygon);
                Areas = [.. Areas.Where(a => a.Id != Guid.Empty), known];
            }

            Area = known;
        }
        else
        {
            Area = null;
        }

        (FloorFt, CeilingFt, Start) = (kept.FloorFt, kept.CeilingFt, kept.Start);
        Make();
    }

    /// <summary>Another area, with its floor and ceiling; the start is looked for anew.</summary>
    public void Choose(SchoolArea? area)
    {
        (Area, FloorFt, CeilingFt) = (area, area?.FloorFt ?? FloorFt, area?.CeilingFt);
        Start = null;
        Make();
    }

    /// <summary>Winds of a forecast in place of those typed.</summary>
    public void Put(IEnumerable<WindLevel> winds)
    {
        Winds.Clear();
        Winds.AddRange(winds.Select(WindRow.Of));
        if (Winds.Count == 0)
            Winds.Add(new());
        Tried = null;
    }

    /// <summary>The winds as typed, no longer those tried.</summary>
    public void AsTyped()
    {
        Tried = null;
        Make();
    }

    /// <summary>Tries another wind at the entry; those of other heights follow.</summary>
    public void Try(double fromDegTrue, double speedKt)
    {
        Tried = (fromDegTrue, speedKt);
        Make();
    }

    /// <summary>Moves the start; while it is dragged no other one is looked for.</summary>
    public void MoveStart(LatLon to, bool dragging = false)
    {
        Start = to;
        Make(suggest: !dragging);
    }

    /// <summary>Start and heading that the plan suggests.</summary>
    public void UseSuggestion()
    {
        if (Plan?.Area is not { SuggestedStart: { } suggested, SuggestedHeadingMagDeg: { } heading })
            return;
        (Start, HeadingMagDeg) = (suggested, Math.Round(heading));
        Make();
    }

    /// <summary>Makes the plan anew.</summary>
    public void Make(bool suggest = true)
    {
        (Plan, Problem) = (null, null);
        if (Aircraft is not { } plane)
        {
            Problem = T["Choose an aircraft."];
            if (aircraft.Count == 0)
                Problem = T["The school has no aircraft to plan with; the chief instructor adds one."];
            return;
        }

        if (Unfinished is { } unfinished)
        {
            Problem = unfinished;
            return;
        }

        var asked = Asked;
        var entry = asked.Entry(template);
        if (TemplateProblems.Of(template, entry) is [var entryProblem, ..])
        {
            Problem = entryProblem;
            return;
        }

        var (conditions, problem) = asked.Conditions(entry.AltitudeFt, clock.GetUtcNow(), suggest);
        if (conditions is null)
        {
            Problem = problem!.Value.Sentence;
            return;
        }

        var plan = DrillPlan.Of(template, entry, plane, conditions);
        if (Start is null && plan.Area is { } fit)
        {
            // The heading is the instructor's; a start on another one is offered and not taken.
            Start =
                fit is { SuggestedStart: { } place, SuggestedHeadingMagDeg: { } heading }
                && Math.Abs(Angles.DifferenceDeg(heading, entry.HeadingMagDeg)) < 0.5
                    ? place
                    : Middle(conditions.Area!);
            plan = DrillPlan.Of(template, entry, plane, conditions with { Start = Start });
        }

        (Plan, DeclinationDeg) = (plan, conditions.DeclinationDeg);
    }

    /// <summary>Why the winds cannot be used yet; null where they can.</summary>
    private string? Unfinished
    {
        get
        {
            var half = Winds.FindIndex(w => !w.IsEmpty && (w.FromDegTrue is null || w.SpeedKt is null));
            if (half >= 0)
                return T["Wind {0} needs a direction and a speed.", half + 1];
            var heights = Winds.Where(w => !w.IsEmpty).Select(w => w.AltitudeFt).ToList();
            return heights.Count > 1 && (heights.Contains(null) || heights.Distinct().Count() < heights.Count)
                ? T["Each wind needs a height of its own."].Value
                : null;
        }
    }

    private IReadOnlyList<WindLevel>? Blowing()
    {
        var winds = Tried is { } tried ? WindsAloft.With(Typed, EntryAltitudeFt, tried.FromDegTrue, tried.SpeedKt) : Typed;
        return winds.Count == 0 ? null : winds;
    }

    private static LatLon Middle(IReadOnlyList<LatLon> corners) => PracticeArea.From(corners).Area!.ToPlace(0, 0);

    private static bool Same(GeoJsonPolygon a, GeoJsonPolygon b) =>
        a.Coordinates.Count == b.Coordinates.Count
        && a.Coordinates.Zip(b.Coordinates)
            .All(r => r.First.Count == r.Second.Count && r.First.Zip(r.Second).All(c => c.First.SequenceEqual(c.Second)));
}
