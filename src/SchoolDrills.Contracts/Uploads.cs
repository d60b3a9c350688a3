namespace SchoolDrills.Contracts;

/// <summary>
/// A recording that was sent and read, and belongs to no attempt yet. Only who sent it sees it; after a week it is dropped.
/// </summary>
public sealed record PendingUpload(
    Guid Id,
    string FileName,
    long FileBytes,
    DateTimeOffset SentAtUtc,
    DateTimeOffset StartUtc,
    DateTimeOffset EndUtc
);

/// <summary>What a pending recording seems to be of.</summary>
/// <param name="Cautions">What speaks against using it as asked, one sentence each with the remedy; empty where nothing does.</param>
/// <param name="Matches">Open work whose drill is in it, the likeliest first.</param>
/// <param name="LooksLike">Slug of the drill of the catalogue that it seems to be of, where it is none of the open work.</param>
public sealed record UploadCheck(
    PendingUpload Upload,
    IReadOnlyList<string> Cautions,
    IReadOnlyList<UploadMatch> Matches,
    string? LooksLike = null
);

/// <summary>A drill that was found in a pending recording.</summary>
/// <param name="AssignmentId">The open assignment it would be for.</param>
/// <param name="Confidence">As in a report, 0 to 1.</param>
public sealed record UploadMatch(
    Guid AssignmentId,
    Guid StudentId,
    string StudentName,
    string DrillSlug,
    string DrillTitle,
    DateOnly? DueOn,
    double Confidence,
    DateTimeOffset StartUtc,
    DateTimeOffset EndUtc
)
{
    /// <summary>The assignment has been flown before: its due date says nothing any more.</summary>
    public bool Flown { get; init; }

    /// <summary>The flight was recorded on a day before the drill was assigned: it may be of another.</summary>
    public bool AssignedLater { get; init; }
}

/// <summary>Makes an attempt of a pending recording: for an assignment, or (null) free, with drill and student in the meta.</summary>
public sealed record ClaimUpload(Guid? AssignmentId = null, AttemptMeta? Meta = null);
