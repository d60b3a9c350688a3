namespace SchoolDrills.Engine.InFlight;

/// <summary>Something noted on board, by one of several who may have noted the same.</summary>
/// <param name="Id">The number its device gave it.</param>
/// <param name="By">Which log it is in; null for what was told of the flight itself.</param>
/// <param name="Kind">What.</param>
/// <param name="AtUtc">When, by the right clock.</param>
/// <param name="Detail">Which check or task, or free words.</param>
public sealed record NotedEvent(Guid Id, Guid? By, string Kind, DateTimeOffset AtUtc, string? Detail);

/// <summary>
/// What several noted of one flight, joined. An event under the same number is one. The same kind with the same detail noted in two
/// logs within <see cref="SameS"/> seconds is one as well, and the earlier note of it stays; twice in one log it is two.
/// </summary>
public static class JoinedNotes
{
    /// <summary>Two people's notes of one thing are at most this far apart, seconds: the time to look down and tap.</summary>
    public const double SameS = 5;

    /// <summary>What counts of the logs' events beside what was told of the flight itself, which always does; in time.</summary>
    /// <param name="told">Told of the flight itself.</param>
    /// <param name="logs">The logs' events, log after log; of two under one number the first stays.</param>
    public static IReadOnlyList<NotedEvent> Of(IReadOnlyList<NotedEvent> told, IEnumerable<NotedEvent> logs)
    {
        var numbers = told.Select(e => e.Id).ToHashSet();
        var kept = told.ToList();
        foreach (var noted in logs.Where(e => numbers.Add(e.Id)).OrderBy(e => e.AtUtc).ThenBy(e => e.Id))
        {
            if (!kept.Exists(e => e.By != noted.By && IsSame(e, noted)))
                kept.Add(noted);
        }

        return kept[told.Count..];
    }

    private static bool IsSame(NotedEvent one, NotedEvent other) =>
        one.Kind == other.Kind
        && string.Equals(one.Detail?.Trim() ?? "", other.Detail?.Trim() ?? "", StringComparison.OrdinalIgnoreCase)
        && Math.Abs((one.AtUtc - other.AtUtc).TotalSeconds) <= SameS;
}
