using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Checks against their windows in the drill as it was flown.</summary>
internal static class CheckTimes
{
    /// <summary>The checks whose window was flown, in time.</summary>
    /// <param name="drill">The drill as flown.</param>
    /// <param name="noted">Notes in time.</param>
    public static IReadOnlyList<CheckResult> Of(FlownDrill drill, IReadOnlyList<FlightEvent> noted)
    {
        var epochUtc = drill.State.Track.Source.EpochUtc;
        var done = noted
            .Where(e => e.Kind == EventKinds.CheckDone)
            .OrderBy(e => e.AtUtc)
            .Select(e => (AtS: (e.AtUtc - epochUtc).TotalSeconds, Name: e.Detail?.Trim()))
            .ToList();
        var results = new List<CheckResult>();
        foreach (var check in drill.Timeline.Checks.OrderBy(c => c.FromS))
        {
            // The window opens with its segment as flown: being late by the clock is a different fault.
            if (drill.Segments[check.SegmentIndex] is not { } segment)
                continue;
            var fromS = segment.Match.AnchorS + check.FromS - segment.Segment.StartS;
            var toS = fromS + check.ToS - check.FromS;
            if (fromS > drill.Alignment.EndS || drill.Excluded.Touches(fromS, toS))
                continue;
            // A pause before the window shifts it, nobody knows by how much; a drill that was stopped left no time for it.
            if (drill.Excluded.PausedIn(segment.Match.StartS, fromS) || drill.Alignment.StoppedS < toS)
                continue;
            var at = done.FindIndex(n =>
                n.AtS >= fromS - FindingThresholds.CheckEarlyS
                && (
                    string.IsNullOrEmpty(n.Name)
                        ? n.AtS <= toS + FindingThresholds.UnnamedCheckS
                        : string.Equals(n.Name, check.Name, StringComparison.OrdinalIgnoreCase)
                )
            );
            results.Add(
                new(
                    check.Name,
                    check.SegmentIndex,
                    epochUtc.AddSeconds(fromS),
                    epochUtc.AddSeconds(toS),
                    at < 0 ? null : epochUtc.AddSeconds(done[at].AtS),
                    at < 0 ? LoadOutcome.Missed
                        : done[at].AtS - toS > FindingThresholds.CheckGraceS ? LoadOutcome.Late
                        : LoadOutcome.InTime
                )
                {
                    Kind = check.Kind == "flow" ? CheckKind.Flow : CheckKind.Checklist,
                }
            );
            if (at >= 0)
                done.RemoveAt(at);
        }

        return results;
    }
}
