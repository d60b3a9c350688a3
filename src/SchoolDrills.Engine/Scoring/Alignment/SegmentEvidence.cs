using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Log odds that a stretch of flight is one segment of a drill, against general handling.</summary>
internal sealed class SegmentEvidence
{
    private readonly AlignmentGrid grid;
    private readonly TimelineSegment segment;
    private readonly FlownEntry? entry;
    private readonly Way[] ways;
    private readonly HeldRates climbs;
    private readonly double[] straight;
    private readonly double[] lengths;
    private readonly double likeliestEnd;
    private int start;

    public SegmentEvidence(AlignmentGrid grid, TimelineSegment segment, FlownEntry? entry)
    {
        this.entry = entry;
        this.grid = grid;
        this.segment = segment;
        var nominal = segment.DurationS / grid.StepS;
        Shortest = Math.Max(
            1,
            (int)
                Math.Floor(
                    (segment.Kind == SegmentKind.LevelStraight ? ReadingModel.ShortestStraight : AlignmentModel.ShortestShare) * nominal
                )
        );
        Longest = Math.Max(Shortest, (int)Math.Ceiling(AlignmentModel.LongestShare * nominal));
        straight = grid.Evidence.OfTurn(0);
        climbs = grid.Evidence.HeldClimbs(segment.VerticalSpeedFpm);
        ways =
            segment.TurnDeg == 0
                ? [new Way(0, 0, grid.Evidence.TurnAlone(0))]
                :
                [
                    new Way(0, segment.TurnDeg, grid.Evidence.HeldTurns(segment.TurnRateDegPerS)),
                    new Way(Math.Log(ReadingModel.WrongWay), -segment.TurnDeg, grid.Evidence.TurnAlone(-segment.TurnRateDegPerS)),
                ];
        lengths = [.. Enumerable.Range(0, Longest + 1).Select(d => LogLength(d * grid.StepS))];
        likeliestEnd =
            segment.TurnDeg != 0 ? ReadingModel.LogStudent3Peak + PerStep(Math.Abs(segment.TurnRateDegPerS), ReadingModel.TurnEndDeg)
            : segment.VerticalSpeedFpm != 0
                ? ReadingModel.LogStudent3Peak + PerStep(Math.Abs(segment.VerticalSpeedFpm) / 60, ReadingModel.ClimbEndFt)
            : segment.Kind == SegmentKind.SpeedChange ? double.PositiveInfinity
            : lengths.Max();
    }

    /// <summary>Shortest stretch, steps of the grid.</summary>
    public int Shortest { get; }

    /// <summary>Longest stretch, steps of the grid.</summary>
    public int Longest { get; }

    /// <summary>Chooses where the stretches begin that <see cref="LogOdds"/> is asked for.</summary>
    public void Begin(int at)
    {
        start = at;
        climbs.Begin(at);
        foreach (var way in ways)
            way.Turns.Begin(at);
    }

    /// <summary>Log odds of the stretch from the start to an end as this segment.</summary>
    /// <param name="end">The step after the last.</param>
    /// <param name="atLeast">Below this the answer may be negative infinity, which saves most of the work.</param>
    /// <param name="rates">What the rates alone say, without the end.</param>
    public double LogOdds(int end, double atLeast, out double rates)
    {
        var most = rates = double.NegativeInfinity;
        var climb = climbs.Likeliest(end);
        foreach (var way in ways)
        {
            var held = way.Prior + way.Turns.Likeliest(end) + climb;
            rates = Math.Max(rates, held);
            if (held + likeliestEnd > atLeast)
                most = Math.Max(most, held + Ending(way.TurnDeg, start, end));
        }

        return most;
    }

    /// <summary>
    /// Log odds that the flight before a maneuver (side -1) or after it (side 1) is straight, and that a turn does not go on there, so
    /// that the maneuver is not part of a longer one.
    /// </summary>
    public double Flank(int at, int side)
    {
        var most = Math.Log(ReadingModel.NoFlank);
        var flanked = Math.Log(1 - ReadingModel.NoFlank);
        // The other end of the straight is not seen, so any length up to the longest will do.
        for (var d = 1; d * grid.StepS <= ReadingModel.FlankS; d++)
        {
            var (from, to) = side < 0 ? (at - d, at) : (at, at + d);
            if (from < 0 || to > grid.Count)
                break;
            most = Math.Max(most, flanked + straight[to] - straight[from]);
        }

        return most + Tail(GoesOnDeg(at, side) / ReadingModel.TurnEndDeg);
    }

    /// <summary>How far the segment's turn goes on beyond one of its ends, more than rolling in or out takes, degrees.</summary>
    private double GoesOnDeg(int at, int side)
    {
        if (segment.TurnDeg == 0)
            return 0;
        var (sense, rate) = (Math.Sign(segment.TurnDeg), Math.Abs(segment.TurnRateDegPerS));
        // Rolling in or out turns at half the rate.
        var deg = -rate * HandlingModel.RollS / 2;
        var i = side < 0 ? at - 1 : at;
        for (; i >= 0 && i < grid.Count && grid.TurnRateDegPerS[i] * sense > ReadingModel.GoesOnShare * rate; i += side)
            deg += grid.TurnRateDegPerS[i] * sense * grid.StepS;
        return Math.Max(0, deg);
    }

    private double Ending(double turnDeg, int start, int end)
    {
        var to = Math.Min(end, grid.Count - 1);
        var climbFt = segment.EndAltitudeFt - segment.StartAltitudeFt;
        var climb = End(
            (grid.AltitudeFt[to] - grid.AltitudeFt[start] - climbFt) / ReadingModel.ClimbEndFt,
            (grid.AltitudeFt[to] - entry?.AltitudeFtAt(segment)) / ReadingModel.ClimbEndFt
        );
        if (turnDeg != 0)
        {
            var turn = End(
                (grid.HeadingDeg[to] - grid.HeadingDeg[start] - turnDeg) / ReadingModel.TurnEndDeg,
                (entry is null ? null : Angles.DifferenceDeg(grid.HeadingDeg[to], entry.HeadingDegAt(segment))) / ReadingModel.TurnEndDeg
            );
            // The heading says when the turn ends, so its density is one of time.
            var ends = turn + PerStep(Math.Abs(segment.TurnRateDegPerS), ReadingModel.TurnEndDeg);
            return climbFt == 0 ? ends : ends + climb - ReadingModel.LogStudent3Peak;
        }

        if (climbFt != 0)
            return climb + PerStep(Math.Abs(segment.VerticalSpeedFpm) / 60, ReadingModel.ClimbEndFt);
        return lengths[end - start] + (segment.Kind == SegmentKind.SpeedChange ? SpeedOdds(start, to) : 0);
    }

    /// <summary>
    /// Log density of an end, of scale one, whose error is known beside the segment's own start and, where the entry is known, beside
    /// the drill's: pilots mostly fly to the next heading and altitude, whatever came before.
    /// </summary>
    private static double End(double fromStart, double? fromEntry)
    {
        if (!double.IsFinite(fromStart))
            return ReadingModel.LogStudent3Peak;
        if (Math.Abs(fromStart) > ReadingModel.LongestCorrection)
            return Student3.LogDensity(fromStart) + Math.Log(ReadingModel.AnotherInstead);
        if (fromEntry is not { } error)
            return Student3.LogDensity(fromStart);
        return ReadingModel.LogStudent3Peak
            + Math.Log((ReadingModel.FromEntry * Student3.Relative(error)) + ((1 - ReadingModel.FromEntry) * Student3.Relative(fromStart)));
    }

    /// <summary>Turns a density over scales of an end into one over steps of the grid, by the rate at which the end is passed.</summary>
    private double PerStep(double ratePerS, double scale) => Math.Log(ratePerS * grid.StepS / scale);

    /// <summary>What an error costs beside none.</summary>
    private static double Tail(double z) => double.IsFinite(z) ? Student3.LogRelative(z) : 0;

    /// <summary>Log odds that airspeed changed as planned against not at all.</summary>
    private double SpeedOdds(int start, int end)
    {
        var changeKt = grid.SpeedKt[end] - grid.SpeedKt[start];
        return Tail((changeKt - (segment.AirspeedKt - segment.StartAirspeedKt)) / ReadingModel.SpeedEndKt)
            - Tail(changeKt / ReadingModel.SpeedEndKt);
    }

    /// <summary>Logarithm of the probability that a straight ends in the step after this length: by the clock, or as it comes.</summary>
    private double LogLength(double lengthS)
    {
        var scaleS = Math.Max(ReadingModel.StraightScatterS, ReadingModel.StraightScatterShare * segment.DurationS);
        var timed = Math.Exp(Student3.LogDensity((lengthS - segment.DurationS) / scaleS)) / scaleS;
        var z = Math.Log(Math.Max(lengthS, 0.5) / segment.DurationS) / ReadingModel.UntimedScatter;
        var untimed = Math.Exp(-z * z / 2) / (Math.Sqrt(2 * Math.PI) * ReadingModel.UntimedScatter * Math.Max(lengthS, 0.5));
        return Math.Log((((1 - ReadingModel.UntimedShare) * timed) + (ReadingModel.UntimedShare * untimed)) * grid.StepS);
    }

    /// <summary>One way to fly the segment: as planned, or to the wrong side.</summary>
    private sealed record Way(double Prior, double TurnDeg, HeldRates Turns);
}
