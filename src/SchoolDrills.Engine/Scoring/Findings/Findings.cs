using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Names what went wrong in an instructor's words: the most important first, and no more than an instructor would say.</summary>
public static class Findings
{
    /// <summary>The findings on a measured drill.</summary>
    /// <param name="drill">The drill as flown.</param>
    /// <param name="events">What was noted on board; null where nobody took notes, so that no check counts as missed.</param>
    /// <param name="share">How likely the drill is read rightly beside its other readings, 0 to 1.</param>
    public static IReadOnlyList<Finding> Of(FlownDrill drill, IReadOnlyList<FlightEvent>? events = null, double share = 1)
    {
        var notes = new FindingNotes(drill, share);
        var maneuvers = new ManeuverFindings(drill, notes);
        for (var k = 0; k < drill.Segments.Count; k++)
        {
            if (drill.Segments[k] is not { } segment)
            {
                Skipped(drill, notes, k);
                continue;
            }

            maneuvers.Of(k, segment);
        }

        new DriftFindings(drill, notes, events ?? []).Add();

        if (drill.Mirrored)
            Mirrored(drill, notes);
        if (drill.Alignment.Aborted)
            Aborted(drill, notes);
        if (events is not null)
            CheckFindings.Of(drill, events, notes);
        return notes.Heaviest(FindingThresholds.MostFindings);
    }

    private static void Skipped(FlownDrill drill, FindingNotes notes, int k)
    {
        if (drill.IsUnseen(k) || (drill.Alignment.Aborted && k > drill.Alignment.Flown.Last().Index))
            return;
        var nextS = drill.Segments.Skip(k + 1).FirstOrDefault(f => f is not null)?.Match.StartS;
        notes.Add(
            FindingThresholds.SkippedWeight,
            k,
            FindingKind.SkippedSegment,
            Parameter.Timing,
            drill.Timeline.Segments[k].DurationS,
            nextS,
            $"{drill.Timeline.Segments[k].Name} was not flown."
        );
    }

    private static void Mirrored(FlownDrill drill, FindingNotes notes)
    {
        var turn = drill.Timeline.Segments.First(s => s.TurnDeg != 0);
        var (flown, planned) = turn.TurnDeg > 0 ? ("right", "left") : ("left", "right");
        notes.Add(
            FindingThresholds.MirroredWeight,
            null,
            FindingKind.WrongDirection,
            Parameter.Heading,
            Math.Abs(turn.TurnDeg),
            drill.Alignment.StartS,
            $"Flown with left and right exchanged: the first turn was to the {flown}, the drill asks the {planned}."
        );
    }

    private static void Aborted(FlownDrill drill, FindingNotes notes)
    {
        var last = drill.Alignment.Flown.Last();
        var segment = drill.Timeline.Segments[last.Index];
        var leftS =
            drill.Timeline.DurationS
            - segment.EndS
            + (last.Status == SegmentStatus.Partial ? Math.Max(0, segment.DurationS - last.DurationS) : 0);
        notes.Add(
            FindingThresholds.AbortedWeight,
            last.Index,
            FindingKind.Aborted,
            Parameter.Timing,
            leftS,
            last.EndS,
            $"The drill was given up in {FindingNotes.Lower(segment.Name)}, with {TimelineCalls.Clock(leftS)} to go."
        );
    }
}
