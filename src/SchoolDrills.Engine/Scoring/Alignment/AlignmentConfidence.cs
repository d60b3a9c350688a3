using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// How surely a flight is the drill and not other training flight that shares its parts: the log odds of the reading together with how
/// closely each segment resembles its plan.
/// </summary>
internal static class AlignmentConfidence
{
    /// <summary>Confidence of an alignment, 0 to 1; one half is even.</summary>
    public static double Of(AlignmentGrid grid, DrillTimeline timeline, Alignment alignment)
    {
        var score = alignment.LogOdds + (AlignmentModel.ResemblanceWeight * Resemblance(grid, timeline, alignment.Matches));
        return 1 / (1 + Math.Exp((AlignmentModel.EvenScore - score) / AlignmentModel.ScoreSpread));
    }

    /// <summary>
    /// The weighted mean of each segment's evidence, 0 to 1. Evidence is 1 where turn, change of height and length agree, less with the
    /// square of the error, 0 at four half squares and -1 at eight; a missing maneuver counts -1.
    /// </summary>
    private static double Resemblance(AlignmentGrid grid, DrillTimeline timeline, IReadOnlyList<SegmentMatch> matches)
    {
        double weights = 0,
            evidence = 0,
            maneuvers = 0,
            flownS = 0,
            otherS = 0,
            endedS = double.NaN;
        var (first, last) = (matches.TakeWhile(m => m.Status == SegmentStatus.Skipped).Count(), matches.Count - 1);
        while (matches[last].Status == SegmentStatus.Skipped)
            last--;
        for (var k = 0; k <= last; k++)
        {
            var (segment, match) = (timeline.Segments[k], matches[k]);
            var straight = IsStraight(segment);
            var share = match.Status == SegmentStatus.Partial ? Math.Min(1, match.DurationS / segment.DurationS) : 1;
            maneuvers += straight ? 0 : share;
            flownS += share * segment.DurationS;
            if (match.Status != SegmentStatus.Skipped)
            {
                if (double.IsFinite(endedS))
                    otherS += Math.Max(0, (match.FirstStartS ?? match.StartS) - endedS);
                endedS = match.EndS;
            }

            // The score of a partial segment's seconds was evidence enough to mark it.
            if (match.Status == SegmentStatus.Partial)
                continue;
            var weight = straight ? Math.Clamp(segment.DurationS / AlignmentModel.FullStraightS, AlignmentModel.LeastWeight, 1) : 1;
            weights += weight;
            evidence +=
                weight
                * (
                    match.Status == SegmentStatus.Skipped
                        ? straight
                            ? AlignmentModel.MissingStraight
                            : AlignmentModel.MissingManeuver
                        : Evidence(grid, segment, match)
                );
        }

        if (weights == 0)
            return 0;
        var planned = timeline.Segments.Count(s => !IsStraight(s));
        var enough =
            Math.Min(1, maneuvers / Math.Clamp(planned, 1, AlignmentModel.MinimumManeuvers))
            * Math.Min(1, flownS / (AlignmentModel.MinimumShare * timeline.DurationS));
        return Math.Max(0, evidence / weights) * Math.Exp(-otherS / AlignmentModel.OtherFlightS) * enough;
    }

    private static double Evidence(AlignmentGrid grid, TimelineSegment segment, SegmentMatch match)
    {
        var (start, end) = (grid.IndexAt(match.StartS), grid.IndexAt(match.EndS));
        var climbFt = segment.EndAltitudeFt - segment.StartAltitudeFt;
        var turn =
            (grid.HeadingDeg[end] - grid.HeadingDeg[start] - segment.TurnDeg)
            / (AlignmentModel.TurnScatterDeg + (AlignmentModel.TurnScatterShare * Math.Abs(segment.TurnDeg)));
        var climb =
            (grid.AltitudeFt[end] - grid.AltitudeFt[start] - climbFt)
            / (AlignmentModel.ClimbScatterFt + (AlignmentModel.ClimbScatterShare * Math.Abs(climbFt)));
        var length =
            Math.Log(match.DurationS / segment.DurationS)
            / (IsStraight(segment) ? AlignmentModel.StraightLengthScatter : AlignmentModel.ManeuverLengthScatter);
        var speed = SpeedError(grid, segment, start, end);
        // Altitude drifting in a level segment, or a wrong length, is a flying error: on its own it does not make it another segment.
        var heightSquares = climbFt == 0 ? Math.Min(AlignmentModel.LoneErrorCap, climb * climb) : climb * climb;
        var halfSquares = ((turn * turn) + heightSquares + Math.Min(AlignmentModel.LoneErrorCap, length * length) + (speed * speed)) / 2;
        return double.IsFinite(halfSquares) ? Math.Max(AlignmentModel.MissingManeuver, 1 - (halfSquares / AlignmentModel.Undecided)) : 0;
    }

    private static bool IsStraight(TimelineSegment segment) => segment.Kind == SegmentKind.LevelStraight;

    /// <summary>
    /// How far the change of airspeed over a segment is from the planned one, in scatters; 0 where none is planned or it is not known.
    /// </summary>
    public static double SpeedError(AlignmentGrid grid, TimelineSegment segment, int start, int end)
    {
        if (segment.Kind != SegmentKind.SpeedChange)
            return 0;
        var error =
            (grid.SpeedKt[end] - grid.SpeedKt[start] - (segment.AirspeedKt - segment.StartAirspeedKt)) / AlignmentModel.SpeedScatterKt;
        return double.IsFinite(error) ? error : 0;
    }
}
