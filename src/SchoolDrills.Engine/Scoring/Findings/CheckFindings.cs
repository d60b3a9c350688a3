using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Checks that were noted late or not at all, against the windows of the drill as it was flown.</summary>
internal static class CheckFindings
{
    /// <summary>Notes the findings on the checks of a drill.</summary>
    public static void Of(FlownDrill drill, IReadOnlyList<FlightEvent> events, FindingNotes notes)
    {
        var epochUtc = drill.State.Track.Source.EpochUtc;
        var noted = events
            .Where(e => e.Kind == "check")
            .OrderBy(e => e.AtUtc)
            .Select(e => (AtS: (e.AtUtc - epochUtc).TotalSeconds, Name: e.Detail?.Trim()))
            .ToList();
        foreach (var check in drill.Timeline.Checks.OrderBy(c => c.FromS))
        {
            // The window opens with its segment as flown: being late by the clock is a different fault.
            if (drill.Segments[check.SegmentIndex] is not { } segment)
                continue;
            var fromS = segment.Match.AnchorS + check.FromS - segment.Segment.StartS;
            var toS = fromS + check.ToS - check.FromS;
            if (fromS > drill.Alignment.EndS || drill.Excluded.Touches(fromS, toS))
                continue;
            var at = noted.FindIndex(n =>
                n.AtS >= fromS - FindingThresholds.CheckEarlyS
                && (
                    string.IsNullOrEmpty(n.Name)
                        ? n.AtS <= toS + FindingThresholds.UnnamedCheckS
                        : string.Equals(n.Name, check.Name, StringComparison.OrdinalIgnoreCase)
                )
            );
            if (at < 0)
            {
                notes.Add(
                    FindingThresholds.MissedCheckWeight,
                    check.SegmentIndex,
                    FindingKind.MissedCheck,
                    Parameter.Timing,
                    toS - fromS,
                    toS,
                    $"{check.Name} was not done."
                );
                continue;
            }

            var lateS = noted[at].AtS - toS;
            if (lateS > FindingThresholds.CheckGraceS)
            {
                notes.Add(
                    FindingThresholds.LateCheckWeight,
                    check.SegmentIndex,
                    FindingKind.LateCheck,
                    Parameter.Timing,
                    lateS,
                    noted[at].AtS,
                    $"{check.Name} was done {lateS:0} s after its window had closed."
                );
            }

            noted.RemoveAt(at);
        }
    }
}
