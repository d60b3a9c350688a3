namespace SchoolDrills.Web.Uploads;

/// <summary>The quantities of a recording as a pilot reads them.</summary>
internal static class ColumnLabels
{
    public static string Of(string quantity) =>
        quantity switch
        {
            "timeS" => "time",
            "date" => "date",
            "utcOffset" => "local time ahead of UTC",
            "latDeg" => "latitude",
            ColumnDraft.Position => "latitude and longitude together",
            "latHemisphere" => "north or south",
            "lonDeg" => "longitude",
            "lonHemisphere" => "east or west",
            "gpsAltitudeFt" => "GPS altitude",
            "pressureAltitudeFt" => "pressure altitude (1013.25 hPa)",
            "indicatedAltitudeFt" => "indicated altitude",
            "altimeterSettingHpa" => "altimeter setting",
            "indicatedAirspeedKt" => "indicated airspeed",
            "trueAirspeedKt" => "true airspeed",
            "headingMagDeg" => "heading, magnetic",
            "headingTrueDeg" => "heading, true",
            "bankDeg" => "bank",
            "pitchDeg" => "pitch",
            "verticalSpeedFpm" => "vertical speed",
            "groundSpeedKt" => "ground speed",
            "courseTrueDeg" => "track over ground, true",
            "outsideAirTemperatureC" => "outside air temperature",
            "magneticVariationDeg" => "magnetic variation",
            _ => quantity,
        };
}
