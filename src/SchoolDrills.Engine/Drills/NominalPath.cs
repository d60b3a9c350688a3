using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Drills;

/// <summary>How fast the nominal aeroplane rolls and pitches. Infinite values give turns and climbs that begin at once.</summary>
/// <param name="RollRateDegPerS">Rate of roll, degrees per second.</param>
/// <param name="VerticalSpeedChangeFpmPerS">Change of vertical speed, feet per minute per second.</param>
public sealed record PathLimits(
    double RollRateDegPerS = DrillModel.RollRateDegPerS,
    double VerticalSpeedChangeFpmPerS = DrillModel.VerticalSpeedChangeFpmPerS
)
{
    /// <summary>Every change at once, for calculations by hand.</summary>
    public static PathLimits None { get; } = new(double.PositiveInfinity, double.PositiveInfinity);
}

/// <summary>
/// The path of a drill flown exactly on the clock: coordinated turns with a finite roll rate, climbs with a finite change of vertical
/// speed, over
/// still air or carried by the wind. Each roll and pitch change straddles the clock time at which segments meet, half before and half
/// after, as a pilot flies who leads roll-outs and level-offs, so every turn and every climb is complete. The path begins and ends
/// established in its first and last segment. Columns are of one length.
/// </summary>
/// <param name="TimeS">Drill clock, seconds.</param>
/// <param name="EastM">East of the start over the ground, metres (true east where a declination was given).</param>
/// <param name="NorthM">North of the start over the ground, metres.</param>
/// <param name="AltitudeFt">Indicated altitude, feet.</param>
/// <param name="HeadingMagDeg">Magnetic heading, degrees, (0, 360].</param>
/// <param name="BankDeg">Angle of bank, degrees, right positive.</param>
/// <param name="SegmentIndex">Segment on the clock.</param>
public sealed record NominalPath(
    double[] TimeS,
    double[] EastM,
    double[] NorthM,
    double[] AltitudeFt,
    double[] HeadingMagDeg,
    double[] BankDeg,
    int[] SegmentIndex
)
{
    /// <summary>Steps of integration for each second of the clock.</summary>
    private const int StepsPerS = 10;

    /// <summary>Flies a timeline over still air of the standard atmosphere, on a magnetic grid, as drills are drawn.</summary>
    /// <param name="timeline">The drill resolved.</param>
    /// <param name="entry">The entry it was resolved for.</param>
    /// <param name="everyS">Least time between points, seconds.</param>
    public static NominalPath OverStillAir(DrillTimeline timeline, DrillEntry entry, double everyS)
    {
        var altitudeFt = Math.Clamp(entry.AltitudeFt, 0, 40_000);
        return Of(
            timeline,
            Airspeed.TrueFromCalibratedKt(entry.AirspeedKt, altitudeFt, Atmosphere.TemperatureC(altitudeFt)),
            everyS: everyS
        );
    }

    /// <summary>Flies a timeline.</summary>
    /// <param name="timeline">The drill resolved.</param>
    /// <param name="trueAirspeedKt">True airspeed at the entry airspeed, knots; it changes in proportion to indicated airspeed.</param>
    /// <param name="declinationDeg">Magnetic declination, degrees, east positive; 0 to draw on a magnetic grid.</param>
    /// <param name="windAt">Motion of the air, knots toward east and north, at an altitude in feet; null for still air.</param>
    /// <param name="limits">Roll and pitch limits; null for the usual.</param>
    /// <param name="everyS">Least time between points, seconds; segments' ends are always points.</param>
    /// <exception cref="ArgumentOutOfRangeException">An airspeed or a time that is not above 0.</exception>
    public static NominalPath Of(
        DrillTimeline timeline,
        double trueAirspeedKt,
        double declinationDeg = 0,
        Func<double, (double EastKt, double NorthKt)>? windAt = null,
        PathLimits? limits = null,
        double everyS = 1
    )
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(trueAirspeedKt);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(everyS);
        limits ??= new PathLimits();
        var segments = timeline.Segments;
        var tasPerIas = trueAirspeedKt / segments[0].StartAirspeedKt;
        var rows = new List<Row>((int)(timeline.DurationS / everyS) + segments.Count + 1);
        var at = new Place(0, 0, segments[0].StartAltitudeFt, segments[0].StartHeadingMagDeg);
        for (var i = 0; i < segments.Count; i++)
        {
            var segment = segments[i];
            var rates = new Rates(segments, i, tasPerIas, limits);
            var points = (int)Math.Ceiling(segment.DurationS / everyS - 1e-9);
            for (var point = 0; point < points; point++)
            {
                var (fromS, toS) = (point * everyS, Math.Min((point + 1) * everyS, segment.DurationS));
                Note(segment, fromS, rates);
                var steps = (int)Math.Ceiling((toS - fromS) * StepsPerS);
                var stepS = (toS - fromS) / steps;
                for (var step = 0; step < steps; step++)
                    at = Fly(at, segment, fromS + ((step + 0.5) * stepS), stepS, rates);
            }

            if (i == segments.Count - 1)
                Note(segment, segment.DurationS, rates);
        }

        return new NominalPath(
            Column(r => r.TimeS),
            Column(r => r.At.EastM),
            Column(r => r.At.NorthM),
            Column(r => r.At.AltitudeFt),
            Column(r => TimelineResolver.Compass(r.At.HeadingDeg)),
            Column(r => r.BankDeg),
            [.. rows.Select(r => r.SegmentIndex)]
        );

        double[] Column(Func<Row, double> value) => [.. rows.Select(value)];

        void Note(TimelineSegment segment, double elapsedS, Rates rates) =>
            rows.Add(
                new(
                    segment.StartS + elapsedS,
                    at,
                    TurnGeometry.BankDeg(rates.TurnDegPerS(elapsedS), tasPerIas * segment.AirspeedKtAt(elapsedS)),
                    segment.Index
                )
            );

        Place Fly(Place from, TimelineSegment segment, double midS, double stepS, Rates rates)
        {
            var speedKt = tasPerIas * segment.AirspeedKtAt(midS);
            var turnedDeg = rates.TurnDegPerS(midS) * stepS;
            var climbedFt = rates.ClimbFpm(midS) / 60 * stepS;
            var (sin, cos) = Math.SinCos(Units.DegToRad(from.HeadingDeg + (turnedDeg / 2) + declinationDeg));
            var (windEastKt, windNorthKt) = windAt?.Invoke(from.AltitudeFt + (climbedFt / 2)) ?? (0, 0);
            var metresPerKt = Units.MpsPerKt * stepS;
            return new(
                from.EastM + (((speedKt * sin) + windEastKt) * metresPerKt),
                from.NorthM + (((speedKt * cos) + windNorthKt) * metresPerKt),
                from.AltitudeFt + climbedFt,
                from.HeadingDeg + turnedDeg
            );
        }
    }

    private readonly record struct Place(double EastM, double NorthM, double AltitudeFt, double HeadingDeg);

    private readonly record struct Row(double TimeS, Place At, double BankDeg, int SegmentIndex);

    /// <summary>Rate of turn and vertical speed within one segment, running evenly from and to its neighbours' across the joints.</summary>
    private sealed class Rates(IReadOnlyList<TimelineSegment> segments, int index, double tasPerIas, PathLimits limits)
    {
        private readonly TimelineSegment segment = segments[index];
        private readonly Joint start = Joint.Between(segments, index - 1, tasPerIas, limits);
        private readonly Joint end = Joint.Between(segments, index, tasPerIas, limits);

        public double TurnDegPerS(double elapsedS) =>
            Blend(
                elapsedS,
                start.Before?.TurnRateDegPerS,
                segment.TurnRateDegPerS,
                end.After?.TurnRateDegPerS,
                start.HalfRollS,
                end.HalfRollS
            );

        public double ClimbFpm(double elapsedS) =>
            Blend(
                elapsedS,
                start.Before?.VerticalSpeedFpm,
                segment.VerticalSpeedFpm,
                end.After?.VerticalSpeedFpm,
                start.HalfPitchS,
                end.HalfPitchS
            );

        private double Blend(double elapsedS, double? before, double here, double? after, double startHalfS, double endHalfS)
        {
            var leftS = segment.DurationS - elapsedS;
            if (elapsedS < startHalfS)
                return here + (((before ?? here) - here) * (startHalfS - elapsedS) / (2 * startHalfS));
            if (leftS < endHalfS)
                return here + (((after ?? here) - here) * (endHalfS - leftS) / (2 * endHalfS));
            return here;
        }
    }

    /// <summary>
    /// Where two segments meet, and half the time that the roll and the pitch change there take; never more than half a segment.
    /// </summary>
    private readonly record struct Joint(TimelineSegment? Before, TimelineSegment? After, double HalfRollS, double HalfPitchS)
    {
        public static Joint Between(IReadOnlyList<TimelineSegment> segments, int index, double tasPerIas, PathLimits limits)
        {
            if (index < 0 || index + 1 == segments.Count)
                return default;
            var (before, after) = (segments[index], segments[index + 1]);
            var speedKt = tasPerIas * before.AirspeedKt;
            var rollDeg = Math.Abs(
                TurnGeometry.BankDeg(after.TurnRateDegPerS, speedKt) - TurnGeometry.BankDeg(before.TurnRateDegPerS, speedKt)
            );
            var mostS = Math.Min(before.DurationS, after.DurationS) / 2;
            return new(
                before,
                after,
                Math.Min(mostS, rollDeg / limits.RollRateDegPerS / 2),
                Math.Min(mostS, Math.Abs(after.VerticalSpeedFpm - before.VerticalSpeedFpm) / limits.VerticalSpeedChangeFpmPerS / 2)
            );
        }
    }
}
