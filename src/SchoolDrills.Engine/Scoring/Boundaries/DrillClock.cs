using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// The clock that a drill was flown by. A straight that opens or closes the drill looks the same before and after it, but a pilot who
/// flies by one running clock ends every straight on time, so the ends of the straights tell when the clock started.
/// </summary>
internal static class DrillClock
{
    /// <summary>Straights that vote on the clock.</summary>
    private const int Voters = 5;

    /// <summary>Votes this close agree, seconds.</summary>
    private const double AgreeS = 2;

    /// <summary>
    /// How much later than the first straight's a clock must be to be believed, seconds: who times each straight by itself falls behind
    /// in smaller steps.
    /// </summary>
    private const double JumpS = 6;

    /// <summary>
    /// When the clock read zero: the middle of the largest group of early straights whose ends agree on it, so that one straight held
    /// too long does not move the clock; the first flown segment's start where no straight tells.
    /// </summary>
    /// <param name="segments">The drill.</param>
    /// <param name="alignment">Where it was flown.</param>
    public static double StartS(IReadOnlyList<TimelineSegment> segments, Alignment alignment)
    {
        var votes = new List<double>(Voters);
        var skippedS = 0.0;
        for (var k = 0; k < segments.Count - 1 && votes.Count < Voters; k++)
        {
            var match = alignment.Matches[k];
            // The clock of the segments after one left out runs ahead by its length.
            if (match.Status == SegmentStatus.Skipped)
                skippedS += alignment.OutsideRecording(k) ? 0 : segments[k].DurationS;
            else if (match.Status == SegmentStatus.Flown && segments[k].Kind == SegmentKind.LevelStraight)
                votes.Add(match.EndS - segments[k].EndS + skippedS);
        }

        if (votes.Count == 0)
            return alignment.Flown.First() is var first && alignment.CutBefore
                ? first.AnchorS - segments[first.Index].StartS
                : first.StartS;
        // He may act late by the clock but hardly early: of groups alike the earliest.
        // A pilot who times each straight by itself falls ever further behind: only an earlier clock than the first straight's is believed.
        var group = votes
            .Where(v => v <= votes[0] + AgreeS)
            .Order()
            .Select(v => votes.Where(other => Math.Abs(other - v) <= AgreeS).Order().ToArray())
            .MaxBy(g => g.Length)!;
        // A first turn begun early shows as one jump of the clock after it, on which the straights that follow agree.
        var later = votes.Where(v => v - votes[0] >= JumpS).Order().ToArray();
        if (later.Length >= 2 && later.Length == votes.Count - 1 && later[^1] - later[0] <= 2 * AgreeS)
            group = later;
        return group[group.Length / 2] - HandlingModel.StraightLateS;
    }
}
