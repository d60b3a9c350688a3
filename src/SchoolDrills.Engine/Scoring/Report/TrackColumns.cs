namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// The reconstructed flight as columns for plots, one value a sample, with the targets and tolerance bands of the drill where a
/// segment was being flown. Null where nothing is known or planned.
/// </summary>
public sealed record TrackColumns
{
    /// <summary>The instant from which <see cref="TimeS"/> counts: the drill's found start, else the first sample.</summary>
    public required DateTimeOffset EpochUtc { get; init; }

    /// <summary>Seconds since <see cref="EpochUtc"/>, rising.</summary>
    public required double[] TimeS { get; init; }

    /// <summary>Latitude, degrees.</summary>
    public required double[] LatDeg { get; init; }

    /// <summary>Longitude, degrees.</summary>
    public required double[] LonDeg { get; init; }

    /// <summary>Altitude as the altimeter showed it, feet.</summary>
    public required double?[] AltitudeFt { get; init; }

    /// <summary>Magnetic heading, degrees, (0, 360].</summary>
    public required double?[] HeadingMagDeg { get; init; }

    /// <summary>Vertical speed, feet per minute.</summary>
    public required double?[] VerticalSpeedFpm { get; init; }

    /// <summary>Turn rate, degrees per second, right positive.</summary>
    public required double?[] TurnRateDegPerS { get; init; }

    /// <summary>Indicated airspeed, knots.</summary>
    public required double?[] AirspeedKt { get; init; }

    /// <summary>Index of the segment being flown.</summary>
    public required int?[] SegmentIndex { get; init; }

    /// <summary>Target altitude, feet.</summary>
    public required double?[] AltitudeTargetFt { get; init; }

    /// <summary>Target magnetic heading, degrees, (0, 360].</summary>
    public required double?[] HeadingTargetMagDeg { get; init; }

    /// <summary>Target vertical speed, feet per minute.</summary>
    public required double?[] VerticalSpeedTargetFpm { get; init; }

    /// <summary>Target turn rate, degrees per second.</summary>
    public required double?[] TurnRateTargetDegPerS { get; init; }

    /// <summary>Target indicated airspeed, knots.</summary>
    public required double?[] AirspeedTargetKt { get; init; }

    /// <summary>Allowed altitude deviation either side, feet.</summary>
    public required double?[] AltitudeBandFt { get; init; }

    /// <summary>Allowed heading deviation either side, degrees.</summary>
    public required double?[] HeadingBandDeg { get; init; }

    /// <summary>Allowed vertical speed deviation either side, feet per minute.</summary>
    public required double?[] VerticalSpeedBandFpm { get; init; }

    /// <summary>Allowed turn rate deviation either side, degrees per second.</summary>
    public required double?[] TurnRateBandDegPerS { get; init; }

    /// <summary>Allowed airspeed deviation either side, knots.</summary>
    public required double?[] AirspeedBandKt { get; init; }

    /// <summary>Drill clock at each point of the planned path, seconds.</summary>
    public double[] NominalTimeS
    {
        get;
        init => field = value ?? [];
    } = [];

    /// <summary>Planned path over the ground under the solved wind, latitudes, degrees.</summary>
    public double[] NominalLatDeg
    {
        get;
        init => field = value ?? [];
    } = [];

    /// <summary>Planned path over the ground under the solved wind, longitudes, degrees.</summary>
    public double[] NominalLonDeg
    {
        get;
        init => field = value ?? [];
    } = [];
}
