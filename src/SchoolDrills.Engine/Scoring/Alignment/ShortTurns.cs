using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// Turns rolled out short of their heading and put right some seconds later. The heading at its end makes both parts one turn, but the
/// pilot ended it where he rolled out: the correction belongs to the straight after it.
/// </summary>
internal static class ShortTurns
{
    /// <summary>The alignment with such turns ended at their roll-out.</summary>
    public static Alignment End(AlignmentGrid grid, DrillTimeline timeline, Alignment alignment)
    {
        var matches = alignment.Matches.ToArray();
        for (var k = 0; k + 1 < matches.Length; k++)
        {
            var (turn, next) = (timeline.Segments[k], timeline.Segments[k + 1]);
            if (turn.TurnDeg == 0 || next.Kind != SegmentKind.LevelStraight || matches[k].Status != SegmentStatus.Flown)
                continue;
            if (RolledOut(grid, turn, matches[k]) is not { } rolledOut)
                continue;
            var straight = matches[k + 1];
            matches[k + 1] =
                straight.Status == SegmentStatus.Skipped
                    ? new SegmentMatch(k + 1, SegmentStatus.Flown, grid.TimeS(rolledOut), matches[k].EndS)
                    : straight with
                    {
                        StartS = grid.TimeS(rolledOut),
                    };
            matches[k] = matches[k] with { EndS = grid.TimeS(rolledOut) };
        }

        return alignment with
        {
            Matches = matches,
        };
    }

    /// <summary>Where a turn was rolled out of before it went on to its heading; null where it was not.</summary>
    private static int? RolledOut(AlignmentGrid grid, TimelineSegment turn, SegmentMatch match)
    {
        var (sense, least) = (Math.Sign(turn.TurnDeg), AlignmentModel.StraightShare * Math.Abs(turn.TurnRateDegPerS));
        var (start, end) = (grid.IndexAt(match.StartS), grid.IndexAt(match.EndS));
        var held = 0;
        for (var i = start; i < end; i++)
        {
            held = sense * grid.TurnRateDegPerS[i] < least ? held + 1 : 0;
            if (held * grid.StepS < AlignmentModel.ShortHoldS)
                continue;
            var at = i - held + 1;
            var shortDeg = Math.Abs(turn.TurnDeg) - (sense * (grid.HeadingDeg[at] - grid.HeadingDeg[start]));
            var putRightDeg = sense * (grid.HeadingDeg[end] - grid.HeadingDeg[i]);
            if (
                Math.Min(shortDeg, putRightDeg) > HandlingModel.RollOutLeadDeg
                && shortDeg
                    < Math.Min(
                        ReadingModel.LongestCorrection * ReadingModel.TurnEndDeg,
                        AlignmentModel.MostShortShare * Math.Abs(turn.TurnDeg)
                    )
            )
            {
                return at;
            }
        }

        return null;
    }
}
