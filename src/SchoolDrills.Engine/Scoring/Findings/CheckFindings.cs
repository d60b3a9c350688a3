using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Checks that were noted late or not at all, against the windows of the drill as it was flown.</summary>
internal static class CheckFindings
{
    /// <summary>Notes the findings on the checks of a drill.</summary>
    public static void Of(FlownDrill drill, IReadOnlyList<FlightEvent> events, FindingNotes notes)
    {
        var epochUtc = drill.State.Track.Source.EpochUtc;
        foreach (var check in CheckTimes.Of(drill, events))
        {
            if (check.DoneUtc is not { } doneUtc)
            {
                notes.Add(
                    FindingThresholds.MissedCheckWeight,
                    check.SegmentIndex,
                    FindingKind.MissedCheck,
                    Parameter.Timing,
                    (check.ToUtc - check.FromUtc).TotalSeconds,
                    (check.ToUtc - epochUtc).TotalSeconds,
                    $"{check.Name} was not done."
                );
            }
            else if (check.Outcome == LoadOutcome.Late)
            {
                var lateS = (doneUtc - check.ToUtc).TotalSeconds;
                notes.Add(
                    FindingThresholds.LateCheckWeight,
                    check.SegmentIndex,
                    FindingKind.LateCheck,
                    Parameter.Timing,
                    lateS,
                    (doneUtc - epochUtc).TotalSeconds,
                    $"{check.Name} was done {lateS:0} s after its window had closed."
                );
            }
        }
    }
}
