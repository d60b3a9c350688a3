namespace SchoolDrills.Engine.Scoring;

/// <summary>What the notes taken on board say of when the drill was flown by the student: its pauses, and where it was stopped.</summary>
internal static class BoardNotes
{
    private static readonly (string From, string To, PauseReason Why)[] Kinds =
    [
        (EventKinds.Traffic, EventKinds.TrafficClear, PauseReason.Traffic),
        (EventKinds.TookControl, EventKinds.HandedBack, PauseReason.InstructorControl),
    ];

    /// <summary>Notes in time, each once: devices send them more than once, and in any order. Null stays null.</summary>
    public static IReadOnlyList<FlightEvent>? InOrder(IReadOnlyList<FlightEvent>? events) =>
        events is null
            ? null
            :
            [
                .. events
                    .Select(e => e with { AtUtc = e.AtUtc.ToUniversalTime() })
                    .Distinct()
                    .OrderBy(e => e.AtUtc)
                    .ThenBy(e => e.Kind, StringComparer.Ordinal)
                    .ThenBy(e => e.Detail, StringComparer.Ordinal),
            ];

    /// <summary>
    /// Pauses within a time, those of one reason apart. Each lasts to the first note of its end; where none came, or so late that it must
    /// belong to another, for the usual time.
    /// </summary>
    /// <param name="events">Notes in order.</param>
    /// <param name="fromUtc">From.</param>
    /// <param name="toUtc">To.</param>
    public static IReadOnlyList<PausedTime> Pauses(IReadOnlyList<FlightEvent>? events, DateTimeOffset fromUtc, DateTimeOffset toUtc)
    {
        var near = (events ?? [])
            .Where(e => (fromUtc - e.AtUtc).TotalSeconds <= MeasurementModel.LongestPauseS && e.AtUtc < toUtc.AddDays(1))
            .ToList();
        var pauses = new List<PausedTime>();
        foreach (var (from, to, why) in Kinds)
        {
            PausedTime? open = null;
            foreach (var start in near.Where(e => e.Kind == from))
            {
                var end = near.Find(e => e.Kind == to && e.AtUtc >= start.AtUtc)?.AtUtc;
                var isNoted = end is { } at && (at - start.AtUtc).TotalSeconds <= MeasurementModel.LongestPauseS;
                var next = new PausedTime(
                    start.AtUtc,
                    isNoted ? end!.Value : start.AtUtc.AddSeconds(MeasurementModel.PauseS),
                    why,
                    isNoted
                );
                if (open is not null && next.FromUtc <= open.ToUtc)
                {
                    open = next.ToUtc > open.ToUtc ? next with { FromUtc = open.FromUtc } : open;
                    continue;
                }

                if (open is not null)
                    pauses.Add(open);
                open = next;
            }

            if (open is not null)
                pauses.Add(open);
        }

        return Within([.. pauses.OrderBy(p => p.FromUtc).ThenBy(p => p.Why)], fromUtc, toUtc);
    }

    /// <summary>What of the pauses lies within a time.</summary>
    public static IReadOnlyList<PausedTime> Within(IReadOnlyList<PausedTime> pauses, DateTimeOffset fromUtc, DateTimeOffset toUtc) =>
        [
            .. pauses
                .Where(p => p.FromUtc < toUtc && p.ToUtc > fromUtc && p.ToUtc > p.FromUtc)
                .Select(p => p with { FromUtc = p.FromUtc < fromUtc ? fromUtc : p.FromUtc, ToUtc = p.ToUtc > toUtc ? toUtc : p.ToUtc }),
        ];

    /// <summary>
    /// When the instructor stopped the drill, seconds since the recording's epoch; null where he did not. What he notes soon after the
    /// drill was given up is why it was.
    /// </summary>
    public static double? StoppedS(IReadOnlyList<FlightEvent>? events, Alignment alignment, DateTimeOffset epochUtc)
    {
        var untilS = alignment.EndS + (alignment.Aborted ? MeasurementModel.StopNotedS : 0);
        var stops = (events ?? [])
            .Where(e => e.Kind == EventKinds.Abort)
            .Select(e => (e.AtUtc - epochUtc).TotalSeconds)
            .Where(atS => atS > alignment.StartS && atS < untilS)
            .ToList();
        return stops.Count > 0 ? stops.Min() : null;
    }
}
