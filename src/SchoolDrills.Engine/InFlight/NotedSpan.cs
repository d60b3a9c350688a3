namespace SchoolDrills.Engine.InFlight;

/// <summary>From when to when a flight was noted.</summary>
/// <param name="StartUtc">First time noted.</param>
/// <param name="EndUtc">Last time noted.</param>
public sealed record NotedSpan(DateTimeOffset StartUtc, DateTimeOffset EndUtc)
{
    /// <summary>Drills that overlap a log by as much as this of each other overlap it alike, seconds.</summary>
    private const double AlikeS = 1;

    /// <summary>The span of all times of a log; null where it has none.</summary>
    /// <param name="timesUtc">Start and end of the clock and every event, in any order.</param>
    public static NotedSpan? Of(IEnumerable<DateTimeOffset?> timesUtc)
    {
        var known = timesUtc.Where(t => t is not null).Select(t => t!.Value).ToList();
        return known.Count == 0 ? null : new NotedSpan(known.Min(), known.Max());
    }

    /// <summary>
    /// The flight that was noted: of those whose recording the span overlaps, the one whose drill it overlaps most. Where several are
    /// alike it stays with the one it was with, else it is the first.
    /// </summary>
    /// <returns>Its place in the list; null where none fits.</returns>
    public int? FlightAmong(IReadOnlyList<RecordedFlight> flights, int? current)
    {
        var fitting = Enumerable.Range(0, flights.Count).Where(i => Overlaps(flights[i])).ToList();
        if (fitting.Count == 0)
            return null;
        var mostS = fitting.Max(i => OverlapS(flights[i]));
        var alike = fitting.FindAll(i => OverlapS(flights[i]) >= mostS - AlikeS);
        return current is { } held && alike.Contains(held) ? held : alike[0];
    }

    private bool Overlaps(RecordedFlight flight) => StartUtc <= flight.EndUtc && EndUtc >= flight.StartUtc;

    private double OverlapS(RecordedFlight flight)
    {
        if (flight is not { DrillStartUtc: { } start, DrillEndUtc: { } end })
            return 0;
        var (from, to) = (start > StartUtc ? start : StartUtc, end < EndUtc ? end : EndUtc);
        return Math.Max(0, (to - from).TotalSeconds);
    }
}

/// <summary>A flight as its recording has it.</summary>
/// <param name="StartUtc">First sample.</param>
/// <param name="EndUtc">Last sample.</param>
/// <param name="DrillStartUtc">Start of the drill as found; null where none is found yet.</param>
/// <param name="DrillEndUtc">Its end.</param>
public sealed record RecordedFlight(
    DateTimeOffset StartUtc,
    DateTimeOffset EndUtc,
    DateTimeOffset? DrillStartUtc = null,
    DateTimeOffset? DrillEndUtc = null
);
