using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// How surely a flight is the drill and not other training flight that shares its parts: the weighted mean over the segments of what
/// each says for or against it. A segment whose turn, change of height and length agree says yes with 1; each is the logarithm of a
/// likelihood ratio, so disagreement falls off with the square of the error, says nothing at four and no at eight half squares; a
/// maneuver that is missing says no.
/// </summary>
internal static class AlignmentConfidence
{
    /// <summary>Usual scatter of the turn made, degrees, and of the height gained, feet: of a straight and level segment, and more for each degree and foot asked.</summary>
    private const double TurnScatterDeg = 12,
        TurnScatterShare = 0.08,
        ClimbScatterFt = 90,
        ClimbScatterShare = 0.1;

    /// <summary>Usual scatter of the length, as the logarithm of its share of the nominal: a maneuver takes the time it takes, a straight what the pilot lets it.</summary>
    private const double ManeuverLengthScatter = 0.25,
        StraightLengthScatter = 0.5;

    /// <summary>Most that a height let go or a length alone count, squares of scatter.</summary>
    private const double MostAlone = 5;

    /// <summary>Half squares of error at which a segment says neither yes nor no.</summary>
    private const double Undecided = 4;

    /// <summary>What a missing maneuver and a missing straight say; nothing says less.</summary>
    private const double MissingManeuver = -1,
        MissingStraight = -0.3;

    /// <summary>A straight as long as this says as much as a maneuver; the shortest says half of it, since every flight has straights.</summary>
    private const double FullStraightS = 60,
        LeastWeight = 0.5;

    /// <summary>Of a drill given up, the least to have been flown: maneuvers, and share of its time.</summary>
    private const double MinimumManeuvers = 3,
        MinimumShare = 0.4;

    /// <summary>Other flight inside the drill that takes all but a third of the confidence, seconds.</summary>
    private const double OtherFlightS = 120;

    /// <summary>Confidence of an alignment, 0 to 1.</summary>
    public static double Of(AlignmentGrid grid, DrillTimeline timeline, IReadOnlyList<SegmentMatch> matches)
    {
        double weights = 0,
            said = 0,
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
            maneuvers += straight ? 0 : 1;
            flownS += segment.DurationS;
            if (match.Status != SegmentStatus.Skipped)
            {
                if (double.IsFinite(endedS))
                    otherS += Math.Max(0, match.StartS - endedS);
                endedS = match.EndS;
            }

            // Of what was only begun the worth of its seconds has already spoken.
            if (match.Status == SegmentStatus.Partial)
                continue;
            var weight = straight ? Math.Clamp(segment.DurationS / FullStraightS, LeastWeight, 1) : 1;
            weights += weight;
            said +=
                weight
                * (
                    match.Status == SegmentStatus.Skipped
                        ? straight
                            ? MissingStraight
                            : MissingManeuver
                        : Says(grid, segment, match)
                );
        }

        if (weights == 0)
            return 0;
        var asked = timeline.Segments.Count(s => !IsStraight(s));
        var enough =
            Math.Min(1, maneuvers / Math.Clamp(asked, 1, MinimumManeuvers)) * Math.Min(1, flownS / (MinimumShare * timeline.DurationS));
        return Math.Max(0, said / weights) * Math.Exp(-otherS / OtherFlightS) * enough;
    }

    private static double Says(AlignmentGrid grid, TimelineSegment segment, SegmentMatch match)
    {
        var (start, end) = (grid.IndexAt(match.StartS), grid.IndexAt(match.EndS));
        var climbFt = segment.EndAltitudeFt - segment.StartAltitudeFt;
        var turn =
            (grid.HeadingDeg[end] - grid.HeadingDeg[start] - segment.TurnDeg)
            / (TurnScatterDeg + (TurnScatterShare * Math.Abs(segment.TurnDeg)));
        var climb = (grid.AltitudeFt[end] - grid.AltitudeFt[start] - climbFt) / (ClimbScatterFt + (ClimbScatterShare * Math.Abs(climbFt)));
        var length = Math.Log(match.DurationS / segment.DurationS) / (IsStraight(segment) ? StraightLengthScatter : ManeuverLengthScatter);
        var speed = SegmentAligner.SpeedError(grid, segment, start, end);
        // A height let go in a level segment, or a time, is an error in flying it: alone it does not make it another one.
        var heightSquares = climbFt == 0 ? Math.Min(MostAlone, climb * climb) : climb * climb;
        var halfSquares = ((turn * turn) + heightSquares + Math.Min(MostAlone, length * length) + (speed * speed)) / 2;
        return double.IsFinite(halfSquares) ? Math.Max(MissingManeuver, 1 - (halfSquares / Undecided)) : 0;
    }

    private static bool IsStraight(TimelineSegment segment) => segment.Kind == SegmentKind.LevelStraight;
}
