using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Contracts;

/// <summary>Assigns a drill to one or more students.</summary>
/// <param name="UnlessOpen">
/// Leaves out students who have the drill to fly already, whoever assigned it, and answers with that assignment instead: however many
/// instructors ask at once, there is one.
/// </param>
public sealed record CreateAssignment(
    IReadOnlyList<Guid> StudentIds,
    string DrillSlug,
    DateOnly? DueOn,
    string? Notes = null,
    AssignmentOverrides? Overrides = null,
    bool UnlessOpen = false
);

/// <summary>What an instructor sets for this student and day; what is null stays as the template has it.</summary>
/// <param name="Aircraft">Slug of the aircraft profile that an attempt is taken to be flown in, unless its upload says another.</param>
public sealed record AssignmentOverrides(
    double? HeadingMagDeg = null,
    double? AltitudeFt = null,
    double? AirspeedKt = null,
    bool? Mirrored = null,
    bool? HalfRate = null,
    string? StandardSlug = null,
    string? Aircraft = null
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
