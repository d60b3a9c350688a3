namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// A recording as it was written: columns over time, not smoothed or repaired. Every column has one value a sample; NaN marks a
/// value that the recording lacks, and a column that it lacks altogether is null.
/// </summary>
public sealed class Track
{
    /// <summary><c>gpx</c>, <c>igc</c>, <c>nmea</c>, <c>kml</c>, <c>tcx</c> or <c>csv</c>.</summary>
    public required string Format { get; init; }

    /// <summary>The instant from which <see cref="TimeS"/> counts.</summary>
    public required DateTimeOffset EpochUtc { get; init; }

    /// <summary>
    /// Seconds since <see cref="EpochUtc"/>, in file order, so not yet sorted. Samples that share a time while their positions go on evenly
    /// have times spread evenly, and a warning says so.
    /// </summary>
    public required double[] TimeS { get; init; }

    /// <summary>WGS 84 latitude, degrees, north positive.</summary>
    public required double[] LatDeg { get; init; }

    /// <summary>WGS 84 longitude, degrees, east positive.</summary>
    public required double[] LonDeg { get; init; }

    /// <summary>Satellite altitude, feet; above mean sea level unless <see cref="GpsAltitudeIsEllipsoidal"/>.</summary>
    public double[]? GpsAltitudeFt { get; init; }

    /// <summary>Satellite altitude is above the ellipsoid, not mean sea level.</summary>
    public bool GpsAltitudeIsEllipsoidal { get; init; }

    /// <summary>Altitude on the 1013.25 hPa setting, feet.</summary>
    public double[]? PressureAltitudeFt { get; init; }

    /// <summary>Altitude that the altimeter showed, feet.</summary>
    public double[]? IndicatedAltitudeFt { get; init; }

    /// <summary>Altimeter setting as recorded, hPa.</summary>
    public double[]? AltimeterSettingHpa { get; init; }

    /// <summary>Indicated (or calibrated) airspeed, knots.</summary>
    public double[]? IndicatedAirspeedKt { get; init; }

    /// <summary>True airspeed, knots.</summary>
    public double[]? TrueAirspeedKt { get; init; }

    /// <summary>Magnetic heading, degrees.</summary>
    public double[]? HeadingMagDeg { get; init; }

    /// <summary>True heading, degrees.</summary>
    public double[]? HeadingTrueDeg { get; init; }

    /// <summary>Bank, degrees, right positive.</summary>
    public double[]? BankDeg { get; init; }

    /// <summary>Pitch, degrees, up positive.</summary>
    public double[]? PitchDeg { get; init; }

    /// <summary>Vertical speed, feet per minute, up positive.</summary>
    public double[]? VerticalSpeedFpm { get; init; }

    /// <summary>Ground speed, knots.</summary>
    public double[]? GroundSpeedKt { get; init; }

    /// <summary>Direction of travel over the ground, degrees true.</summary>
    public double[]? CourseTrueDeg { get; init; }

    /// <summary>Outside air temperature, degrees Celsius.</summary>
    public double[]? OutsideAirTemperatureC { get; init; }

    /// <summary>Magnetic variation (declination), degrees, east positive.</summary>
    public double[]? MagneticVariationDeg { get; init; }

    /// <summary>
    /// What each column was taken from: our name for it to the recording's own (<c>indicatedAltitudeFt</c> to <c>indicated_alt_ft</c>).
    /// </summary>
    public IReadOnlyDictionary<string, string> Columns { get; init; } = new Dictionary<string, string>();

    /// <summary>The header of a CSV; null for other formats.</summary>
    public TrackHeader? Header { get; init; }

    /// <summary>Problems of the file that did not prevent its use, one sentence each.</summary>
    public IReadOnlyList<string> Warnings { get; init; } = [];

    /// <summary>Records that could not be used.</summary>
    public int DroppedRecords { get; init; }

    /// <summary>Number of samples.</summary>
    public int Count => TimeS.Length;
}
