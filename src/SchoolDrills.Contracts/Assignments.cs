using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Planning;

namespace SchoolDrills.Contracts;

/// <summary>Assigns one or more drills to one or more students: an assignment for each student and drill.</summary>
/// <param name="DrillSlug">The drill; may be left out where <paramref name="DrillSlugs"/> name several.</param>
/// <param name="UnlessOpen">
/// Leaves out students who have the drill to fly already, whoever assigned it, and answers with that assignment instead: however many
/// instructors ask at once, there is one.
/// </param>
/// <param name="DrillSlugs">Several drills, in the order in which they are to be flown.</param>
public sealed record CreateAssignment(
    IReadOnlyList<Guid> StudentIds,
    string? DrillSlug,
    DateOnly? DueOn,
    string? Notes = null,
    AssignmentOverrides? Overrides = null,
    bool UnlessOpen = false,
    IReadOnlyList<string>? DrillSlugs = null
);

/// <summary>Takes back several assignments at once, such as those just made.</summary>
public sealed record CancelAssignments(IReadOnlyList<Guid> AssignmentIds);

/// <summary>What an instructor looks at before giving a drill to a student.</summary>
/// <param name="Last">The student's last scored attempt at the drill, whatever its version; null before the first.</param>
/// <param name="Open">The drill as the student has it to fly already; of several the one that is due first.</param>
public sealed record BeforeAssigning(Guid StudentId, string DrillSlug, AttemptSummary? Last, AssignmentSummary? Open);

/// <summary>What an instructor sets for this student and day; what is null stays as the template has it.</summary>
/// <param name="Aircraft">Slug of the aircraft profile that an attempt is taken to be flown in, unless its upload says another.</param>
/// <param name="WindFromDegTrue">
/// Wind to plan with, from, degrees true. Plan and briefing begin with it; no score does, since a forecast is no measurement.
/// </param>
/// <param name="WindKt">Its speed, knots.</param>
public sealed record AssignmentOverrides(
    double? HeadingMagDeg = null,
    double? AltitudeFt = null,
    double? AirspeedKt = null,
    bool? Mirrored = null,
    bool? HalfRate = null,
    string? StandardSlug = null,
    string? Aircraft = null,
    double? WindFromDegTrue = null,
    double? WindKt = null
);

/// <summary>Where an assignment stands.</summary>
/// <param name="State"><c>open</c>, <c>overdue</c>, <c>flown</c> (something scored, not graded), <c>graded</c> or <c>cancelled</c>.</param>
public sealed record AssignmentSummary(
    Guid Id,
    Guid StudentId,
    string StudentName,
    string DrillSlug,
    int DrillVersion,
    string DrillTitle,
    DateOnly? DueOn,
    string? Notes,
    AssignmentOverrides? Overrides,
    string State,
    string AssignedBy,
    DateTimeOffset AssignedAtUtc,
    AttemptSummary? LatestAttempt
)
{
    /// <summary>How it is to be flown on the day; only of one assignment by its id, null where nobody planned it.</summary>
    public AssignmentPlan? Plan { get; init; }

    /// <summary>When the oldest flight was whose notes wait for its recording; null where none wait.</summary>
    public DateTimeOffset? NotesWaitSinceUtc { get; init; }

    /// <summary>Answering <see cref="CreateAssignment.UnlessOpen"/>: it was there before.</summary>
    public bool WasOpen { get; init; }
}

public static class AssignmentEntry
{
    /// <summary>The planned wind, at the height of the entry; none where none is set.</summary>
    public static IReadOnlyList<WindLevel> Winds(this AssignmentOverrides? set, double entryFt) =>
        set is { WindFromDegTrue: { } from, WindKt: { } kt } ? [new WindLevel(entryFt, from, kt)] : [];

    /// <summary>Entry of a drill with what the instructor set for this student and day.</summary>
    public static DrillEntry EntryWith(this DrillTemplate template, AssignmentOverrides? set) =>
        template.Entry with
        {
            HeadingMagDeg = set?.HeadingMagDeg ?? template.Entry.HeadingMagDeg,
            AltitudeFt = set?.AltitudeFt ?? template.Entry.AltitudeFt,
            AirspeedKt = set?.AirspeedKt ?? template.Entry.AirspeedKt,
            Mirrored = set?.Mirrored ?? template.Entry.Mirrored,
            HalfRate = set?.HalfRate ?? template.Entry.HalfRate,
        };
}
