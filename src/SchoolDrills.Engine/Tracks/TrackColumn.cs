using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>The optional columns of a <see cref="Track"/>, in its order.</summary>
internal enum TrackColumn
{
    GpsAltitudeFt,
    PressureAltitudeFt,
    IndicatedAltitudeFt,
    AltimeterSettingHpa,
    IndicatedAirspeedKt,
    TrueAirspeedKt,
    HeadingMagDeg,
    HeadingTrueDeg,
    BankDeg,
    PitchDeg,
    VerticalSpeedFpm,
    GroundSpeedKt,
    CourseTrueDeg,
    OutsideAirTemperatureC,
    MagneticVariationDeg,
}

/// <summary>Names and plausible values of the optional columns.</summary>
internal static class TrackColumnLimits
{
    public static readonly int Count = Enum.GetValues<TrackColumn>().Length;

    private static readonly (double Lowest, double Highest)[] Limits = [.. Enum.GetValues<TrackColumn>().Select(LimitsOf)];

    /// <summary>The column's name as <see cref="Track.Columns"/> has it: <c>gpsAltitudeFt</c>.</summary>
    public static string Name(this TrackColumn column)
    {
        var name = column.ToString();
        return char.ToLowerInvariant(name[0]) + name[1..];
    }

    /// <summary>
    /// A value that the column can hold, or NaN. Sensors without a signal write numbers such as 9999 or -32768.
    /// </summary>
    /// <remarks>Basis: common practice: limits far outside what a light aircraft can do.</remarks>
    public static double Plausible(this TrackColumn column, double value)
    {
        var (lowest, highest) = Limits[(int)column];
        if (!(value >= lowest && value <= highest))
            return double.NaN;
        return column switch
        {
            TrackColumn.HeadingMagDeg or TrackColumn.HeadingTrueDeg or TrackColumn.CourseTrueDeg => OnCircle(value),
            // Some write 8° west as 352.
            TrackColumn.MagneticVariationDeg => Angles.DifferenceDeg(value, 0),
            _ => value,
        };
    }

    private static double OnCircle(double deg)
    {
        if (deg < 0)
            deg += 360;
        return deg < 360 ? deg : 0;
    }

    private static (double Lowest, double Highest) LimitsOf(TrackColumn column) =>
        column switch
        {
            TrackColumn.GpsAltitudeFt or TrackColumn.PressureAltitudeFt or TrackColumn.IndicatedAltitudeFt => (-3_000, 100_000),
            TrackColumn.AltimeterSettingHpa => (800, 1_100),
            TrackColumn.IndicatedAirspeedKt or TrackColumn.TrueAirspeedKt or TrackColumn.GroundSpeedKt => (-50, 1_500),
            TrackColumn.HeadingMagDeg or TrackColumn.HeadingTrueDeg or TrackColumn.CourseTrueDeg => (-360, 360),
            TrackColumn.MagneticVariationDeg => (-360, 360),
            TrackColumn.BankDeg => (-180, 180),
            TrackColumn.PitchDeg => (-90, 90),
            TrackColumn.VerticalSpeedFpm => (-30_000, 30_000),
            TrackColumn.OutsideAirTemperatureC => (-100, 80),
            _ => throw new ArgumentOutOfRangeException(nameof(column), column, "This column has no limits set."),
        };
}
