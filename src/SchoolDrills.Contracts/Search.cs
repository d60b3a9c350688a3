namespace SchoolDrills.Contracts;

/// <summary>What a search found, a few of each kind; every word asked for is in what is found.</summary>
/// <param name="Students">By name; none for a student.</param>
/// <param name="Drills">By title.</param>
/// <param name="Attempts">Newest first.</param>
/// <param name="NewestAttempts">How many of the newest attempts were looked through, besides those of the students found.</param>
public sealed record SearchResult(
    IReadOnlyList<StudentHit> Students,
    IReadOnlyList<DrillHit> Drills,
    IReadOnlyList<AttemptHit> Attempts,
    int NewestAttempts
)
{
    public int Count => Students.Count + Drills.Count + Attempts.Count;
}

/// <summary>A student found by name.</summary>
public sealed record StudentHit(Guid Id, string DisplayName);

/// <summary>A drill found by title or slug.</summary>
public sealed record DrillHit(string Slug, string Title, string State);

/// <summary>An attempt found by its student and its drill's title.</summary>
public sealed record AttemptHit(
    Guid AttemptId,
    string StudentName,
    string DrillTitle,
    DateTimeOffset? FlownAtUtc,
    DateTimeOffset UploadedAtUtc
);
