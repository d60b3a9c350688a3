namespace SchoolDrills.Engine.Drills;

/// <summary>
/// One segment of a resolved drill. Its targets change at constant rates from its start and stay at the end value once reached.
/// </summary>
public sealed record TimelineSegment
{
    /// <summary>Position in the drill, from 0, repetitions expanded.</summary>
    public required int Index { get; init; }

    /// <summary>Name as the template gives it.</summary>
    public required string Name { get; init; }

    /// <summary>Turn, climb and speed change in one word.</summary>
    public required SegmentKind Kind { get; init; }

    /// <summary>Start on the drill clock, seconds.</summary>
    public required double StartS { get; init; }

    /// <summary>End on the drill clock, seconds.</summary>
    public required double EndS { get; init; }

    /// <summary>Magnetic heading at the start, degrees, (0, 360].</summary>
    public required double StartHeadingMagDeg { get; init; }

    /// <summary>Magnetic heading at the end, degrees, (0, 360].</summary>
    public required double EndHeadingMagDeg { get; init; }

    /// <summary>Signed heading change over the segment, degrees, right positive; 360 for a full right circle.</summary>
    public double TurnDeg { get; init; }

    /// <summary>Indicated altitude at the start, feet.</summary>
    public required double StartAltitudeFt { get; init; }

    /// <summary>Indicated altitude at the end, feet.</summary>
    public required double EndAltitudeFt { get; init; }

    /// <summary>Signed turn rate, degrees per second, right positive; 0 when straight.</summary>
    public double TurnRateDegPerS { get; init; }

    /// <summary>Signed vertical speed, feet per minute, up positive; 0 when level.</summary>
    public double VerticalSpeedFpm { get; init; }

    /// <summary>Planned indicated airspeed at the start, knots.</summary>
    public required double StartAirspeedKt { get; init; }

    /// <summary>Indicated airspeed to hold, or to have reached by the end of a speed change, knots.</summary>
    public required double AirspeedKt { get; init; }

    /// <summary>Tolerances that the template overrides for this segment alone.</summary>
    public IReadOnlyList<Tolerance> Overrides
    {
        get;
        init => field = value ?? [];
    } = [];

    /// <summary>Nominal length, seconds.</summary>
    public double DurationS => EndS - StartS;

    /// <summary>Signed heading turned through since the segment's start, degrees.</summary>
    /// <param name="elapsedS">Seconds since the segment's real start.</param>
    public double TurnedDegAt(double elapsedS) =>
        TurnDeg >= 0 ? Math.Clamp(TurnRateDegPerS * elapsedS, 0, TurnDeg) : Math.Clamp(TurnRateDegPerS * elapsedS, TurnDeg, 0);

    /// <summary>Target indicated altitude, feet.</summary>
    /// <param name="elapsedS">Seconds since the segment's real start.</param>
    public double AltitudeFtAt(double elapsedS)
    {
        var changed = VerticalSpeedFpm / 60 * Math.Max(elapsedS, 0);
        var whole = EndAltitudeFt - StartAltitudeFt;
        return StartAltitudeFt + (whole >= 0 ? Math.Clamp(changed, 0, whole) : Math.Clamp(changed, whole, 0));
    }

    /// <summary>Target indicated airspeed, knots: a speed change runs evenly over the nominal length.</summary>
    /// <param name="elapsedS">Seconds since the segment's real start.</param>
    public double AirspeedKtAt(double elapsedS) =>
        StartAirspeedKt + ((AirspeedKt - StartAirspeedKt) * Math.Clamp(DurationS > 0 ? elapsedS / DurationS : 1, 0, 1));
}
