namespace SchoolDrills.Web.Uploads;

/// <summary>The quantities of a recording as a pilot reads them.</summary>
internal static class ColumnLabels
{
    public static string Of(string quantity) =>
        quantity switch
        {
            "timeS" => T["time"],
            "date" => T["date | in a sentence"],
            "utcOffset" => T["local time ahead of UTC"],
            "latDeg" => T["latitude"],
            ColumnDraft.Position => T["latitude and longitude together"],
            "latHemisphere" => T["north or south"],
            "lonDeg" => T["longitude"],
            "lonHemisphere" => T["east or west"],
            "gpsAltitudeFt" => T["GPS altitude"],
            "pressureAltitudeFt" => T["pressure altitude (1013.25 hPa)"],
            "indicatedAltitudeFt" => T["indicated altitude"],
            "altimeterSettingHpa" => T["altimeter setting"],
            "indicatedAirspeedKt" => T["indicated airspeed"],
            "trueAirspeedKt" => T["true airspeed"],
            "headingMagDeg" => T["heading, magnetic"],
            "headingTrueDeg" => T["heading, true"],
            "bankDeg" => T["bank | in a sentence"],
            "pitchDeg" => T["pitch"],
            "verticalSpeedFpm" => T["vertical speed | in a sentence"],
            "groundSpeedKt" => T["ground speed"],
            "courseTrueDeg" => T["track over ground, true"],
            "outsideAirTemperatureC" => T["outside air temperature"],
            "magneticVariationDeg" => T["magnetic variation"],
            _ => quantity,
        };
}
