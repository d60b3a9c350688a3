using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Checks that were noted late or not at all, against the windows of the drill as it was flown.</summary>
internal static class CheckFindings
{
    /// <summary>A check noted this long before its window opens was done for it, and this long after it closes was still in it, seconds.</summary>
    private const double EarlyS = 15,
        GraceS = 3;

    /// <summary>A note that names no check is taken for one whose window closed no longer ago, seconds.</summary>
    private const double UnnamedS = 30;

    /// <summary>What a missed check and a late one weigh.</summary>
    private const double MissedWeight = 3,
        LateWeight = 1.5;

    /// <summary>Looks over the checks of a drill.</summary>
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
            // The window opens with its segment as flown: being late by the clock is another fault.
            if (drill.Segments[check.SegmentIndex] is not { } segment)
                continue;
            var fromS = segment.Match.AnchorS + check.FromS - segment.Segment.StartS;
            var toS = fromS + check.ToS - check.FromS;
            if (fromS > drill.Alignment.EndS || drill.LeftOut.Touches(fromS, toS))
                continue;
            var at = noted.FindIndex(n =>
                n.AtS >= fromS - EarlyS
                && (
                    string.IsNullOrEmpty(n.Name)
                        ? n.AtS <= toS + UnnamedS
                        : string.Equals(n.Name, check.Name, StringComparison.OrdinalIgnoreCase)
                )
            );
            if (at < 0)
            {
                notes.Tell(
                    MissedWeight,
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
            if (lateS > GraceS)
                notes.Tell(
                    LateWeight,
                    check.SegmentIndex,
                    FindingKind.LateCheck,
                    Parameter.Timing,
                    lateS,
                    noted[at].AtS,
                    $"{check.Name} was done {lateS:0} s after its window had closed."
                );
            noted.RemoveAt(at);
        }
    }
}
