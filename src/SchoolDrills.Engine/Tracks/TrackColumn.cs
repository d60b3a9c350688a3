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
}

internal static class TrackColumns
{
    public static readonly int Count = Enum.GetValues<TrackColumn>().Length;

    /// <summary>The column's name as <see cref="Track.Columns"/> has it: <c>gpsAltitudeFt</c>.</summary>
    public static string Name(this TrackColumn column)
    {
        var name = column.ToString();
        return char.ToLowerInvariant(name[0]) + name[1..];
    }

    /// <summary>
    /// A value that the column can hold, or NaN. Sensors without a signal write numbers such as 9999 or -32768; limits are far outside
    /// what a light aircraft can do, so that nothing flown is lost.
    /// </summary>
    public static double Plausible(this TrackColumn column, double value) => column switch
    {
        TrackColumn.GpsAltitudeFt or TrackColumn.PressureAltitudeFt or TrackColumn.IndicatedAltitudeFt => Within(value, -3_000, 100_000),
        TrackColumn.AltimeterSettingHpa => Within(value, 800, 1_100),
        TrackColumn.IndicatedAirspeedKt or TrackColumn.TrueAirspeedKt or TrackColumn.GroundSpeedKt => Within(value, -50, 1_500),
        TrackColumn.HeadingMagDeg or TrackColumn.HeadingTrueDeg or TrackColumn.CourseTrueDeg => Circle(value),
        TrackColumn.BankDeg => Within(value, -180, 180),
        TrackColumn.PitchDeg => Within(value, -90, 90),
        TrackColumn.VerticalSpeedFpm => Within(value, -30_000, 30_000),
        TrackColumn.OutsideAirTemperatureC => Within(value, -100, 80),
        _ => throw new ArgumentOutOfRangeException(nameof(column), column, "This column has no limits set."),
    };

    private static double Within(double value, double lowest, double highest) =>
        value >= lowest && value <= highest ? value : double.NaN;

    private static double Circle(double value) => value switch
    {
        >= 0 and < 360 => value,
        >= -360 and < 0 when value + 360 < 360 => value + 360,
        >= -360 and <= 360 => 0,
        _ => double.NaN,
    };
}
