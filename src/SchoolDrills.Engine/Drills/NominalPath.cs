namespace SchoolDrills.Engine.Drills;

/// <summary>How briskly the nominal aeroplane rolls and pitches. Infinite values give turns and climbs that begin at once.</summary>
/// <param name="RollRateDegPerS">Rate of roll, degrees per second.</param>
/// <param name="VerticalSpeedChangeFpmPerS">Change of vertical speed, feet per minute per second.</param>
public sealed record PathLimits(double RollRateDegPerS = 5, double VerticalSpeedChangeFpmPerS = 100)
{
    /// <summary>Every change at once, for sums on paper.</summary>
    public static PathLimits None { get; } = new(double.PositiveInfinity, double.PositiveInfinity);
}

/// <summary>
/// The path of a drill flown to the second: coordinated turns with finite roll rate, climbs with finite change of vertical speed, over
/// still air or carried by the wind. Every roll and pitch change begins when its segment does, so a roll-out falls at the start of the
/// next segment and each turn comes to its full number of degrees. Columns are of one length; the path runs on past the drill's end
/// until wings are level and the climb has stopped.
/// </summary>
/// <param name="TimeS">Drill clock, seconds.</param>
/// <param name="EastM">East of the start over the ground, metres (true east where a declination was given).</param>
/// <param name="NorthM">North of the start over the ground, metres.</param>
/// <param name="AltitudeFt">Indicated altitude, feet.</param>
/// <param name="HeadingMagDeg">Magnetic heading, degrees, (0, 360].</param>
/// <param name="BankDeg">Angle of bank, degrees, right positive.</param>
/// <param name="SegmentIndex">Segment on the clock.</param>
public sealed record NominalPath(
    double[] TimeS, double[] EastM, double[] NorthM, double[] AltitudeFt, double[] HeadingMagDeg, double[] BankDeg, int[] SegmentIndex)
{
    /// <summary>Longest time the path runs on past the drill's end, seconds.</summary>
    private const double LongestTailS = 30;

    /// <summary>Steps of integration for each second of the clock.</summary>
    private const int StepsPerS = 20;

    /// <summary>Flies a timeline.</summary>
    /// <param name="timeline">The drill resolved.</param>
    /// <param name="trueAirspeedKt">True airspeed at the entry airspeed, knots; it changes in proportion to indicated airspeed.</param>
    /// <param name="declinationDeg">Magnetic declination, degrees, east positive; 0 to draw on a magnetic grid.</param>
    /// <param name="windAt">Motion of the air, knots toward east and north, at an altitude in feet; null for still air.</param>
    /// <param name="limits">Roll and pitch limits; null for the usual.</param>
    /// <param name="everyS">Time between points, whole seconds.</param>
    public static NominalPath Of(
        DrillTimeline timeline,
        double trueAirspeedKt,
        double declinationDeg = 0,
        Func<double, (double EastKt, double NorthKt)>? windAt = null,
        PathLimits? limits = null,
        int everyS = 1)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(trueAirspeedKt);
        ArgumentOutOfRangeException.ThrowIfLessThan(everyS, 1);
        limits ??= new PathLimits();
        var rows = new List<Row>((int)timeline.DurationS / everyS + 40);
        var tasPerIas = trueAirspeedKt / timeline.Segments[0].StartAirspeedKt;
        var now = new Motion(0, 0, timeline.Segments[0].StartAltitudeFt, timeline.Segments[0].StartHeadingMagDeg, 0, 0);
        var (clockS, nextRowS) = (0.0, 0.0);
        foreach (var segment in timeline.Segments)
        {
            var steps = (int)Math.Ceiling(segment.DurationS * StepsPerS);
            var stepS = segment.DurationS / steps;
            for (var i = 0; i < steps; i++)
            {
                Note(segment.Index);
                var speedKt = tasPerIas * segment.AirspeedKtAt((i + 0.5) * stepS);
                now = Step(now, segment.TurnRateDegPerS, segment.VerticalSpeedFpm, speedKt, stepS);
                clockS = segment.StartS + ((i + 1) * stepS);
            }
        }

        var last = timeline.Segments[^1];
        Note(last.Index);
        for (var i = 1; i <= LongestTailS * StepsPerS && (now.BankDeg != 0 || now.VerticalSpeedFpm != 0); i++)
        {
            now = Step(now, 0, 0, tasPerIas * last.AirspeedKt, 1.0 / StepsPerS);
            clockS = last.EndS + ((double)i / StepsPerS);
            Note(last.Index);
        }

        if (rows[^1].TimeS < clockS) rows.Add(new(clockS, now, last.Index));
        return new NominalPath(
            Column(r => r.TimeS), Column(r => r.Motion.EastM), Column(r => r.Motion.NorthM), Column(r => r.Motion.AltitudeFt),
            Column(r => TimelineResolver.Compass(r.Motion.HeadingDeg)), Column(r => r.Motion.BankDeg), [.. rows.Select(r => r.SegmentIndex)]);

        double[] Column(Func<Row, double> value) => [.. rows.Select(value)];

        void Note(int segmentIndex)
        {
            if (clockS < nextRowS - 1e-9) return;
            rows.Add(new(clockS, now, segmentIndex));
            nextRowS += everyS;
        }

        Motion Step(Motion from, double turnRateDegPerS, double verticalSpeedFpm, double speedKt, double stepS)
        {
            var bankDeg = Toward(from.BankDeg, Bank.Deg(turnRateDegPerS, speedKt), limits.RollRateDegPerS * stepS);
            var climbFpm = Toward(from.VerticalSpeedFpm, verticalSpeedFpm, limits.VerticalSpeedChangeFpmPerS * stepS);
            // Without limits the change is over as it begins; with them the step runs at the mean of its ends.
            var meanBankDeg = double.IsInfinity(limits.RollRateDegPerS) ? bankDeg : (from.BankDeg + bankDeg) / 2;
            var meanClimbFpm = double.IsInfinity(limits.VerticalSpeedChangeFpmPerS) ? climbFpm : (from.VerticalSpeedFpm + climbFpm) / 2;
            var turnedDeg = Bank.TurnRateDegPerS(meanBankDeg, speedKt) * stepS;
            var altitudeFt = from.AltitudeFt + (meanClimbFpm / 60 * stepS);
            var (sin, cos) = Math.SinCos((from.HeadingDeg + (turnedDeg / 2) + declinationDeg) * Math.PI / 180);
            var (windEastKt, windNorthKt) = windAt?.Invoke(altitudeFt) ?? (0, 0);
            var metres = 1852.0 / 3600 * stepS;
            return new(
                from.EastM + (((speedKt * sin) + windEastKt) * metres),
                from.NorthM + (((speedKt * cos) + windNorthKt) * metres),
                altitudeFt, from.HeadingDeg + turnedDeg, bankDeg, climbFpm);
        }
    }

    private static double Toward(double from, double to, double atMost) => Math.Abs(to - from) <= atMost ? to : from + (Math.Sign(to - from) * atMost);

    private readonly record struct Motion(double EastM, double NorthM, double AltitudeFt, double HeadingDeg, double BankDeg, double VerticalSpeedFpm);

    private readonly record struct Row(double TimeS, Motion Motion, int SegmentIndex);
}
