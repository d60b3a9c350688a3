using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// The clock that a drill was flown by. A straight that opens or closes the drill looks the same before and after it, but a pilot who
/// flies by one running clock ends every straight on time, so the ends of the straights tell when the clock started.
/// </summary>
internal static class DrillClock
{
    /// <summary>
    /// When the clock read zero: the middle of the largest group of early straights whose ends agree on it, so that one straight held
    /// too long does not move the clock; the first flown segment's start where there is no straight to go by. Straights that ended after
    /// a pause are asked only where none ended before it.
    /// </summary>
    /// <param name="segments">The drill.</param>
    /// <param name="alignment">Where it was flown.</param>
    public static double StartS(IReadOnlyList<TimelineSegment> segments, Alignment alignment)
    {
        var votes = new List<double>(BoundaryModel.ClockVotes);
        var skippedS = 0.0;
        for (var k = 0; k < segments.Count - 1 && votes.Count < BoundaryModel.ClockVotes; k++)
        {
            var match = alignment.Matches[k];
            // A skipped segment puts the clock of those after it ahead by its length.
            if (match.Status == SegmentStatus.Skipped)
                skippedS += alignment.IsUnseen(k) ? 0 : segments[k].DurationS;
            else if (match.EndS > alignment.FirstPauseS && votes.Count > 0)
                break;
            else if (match.Status == SegmentStatus.Flown && segments[k].Kind == SegmentKind.LevelStraight)
                votes.Add(match.EndS - segments[k].EndS + skippedS);
        }

        if (votes.Count == 0)
        {
            return alignment.Flown.First() is var first && alignment.CutBefore
                ? first.AnchorS - segments[first.Index].StartS
                : first.StartS;
        }
        // A pilot may act late by the clock but hardly early, so of equal groups the earliest wins. One who times each straight by itself
        // falls further and further behind, so no clock later than the first straight's is believed.
        var group = votes
            .Where(v => v <= votes[0] + BoundaryModel.ClockAgreeS)
            .Order()
            .Select(v => votes.Where(other => Math.Abs(other - v) <= BoundaryModel.ClockAgreeS).Order().ToArray())
            .MaxBy(g => g.Length)!;
        // Except where the first turn was begun early: the clock jumps once after it, and the straights that follow agree.
        var later = votes.Where(v => v - votes[0] >= BoundaryModel.ClockJumpS).Order().ToArray();
        if (later.Length >= 2 && later.Length == votes.Count - 1 && later[^1] - later[0] <= 2 * BoundaryModel.ClockAgreeS)
            group = later;
        return group[group.Length / 2] - HandlingModel.StraightLateS;
    }
}
