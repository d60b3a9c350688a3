using System.Globalization;
using System.Text;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Accuracy.Demo;

/// <summary>A recording as a file, one line a second.</summary>
internal static class TrackText
{
    public static string Csv(Track track)
    {
        List<(string Name, double[]? Values, int Decimals)> columns =
        [
            ("lat_deg", track.LatDeg, 6),
            ("lon_deg", track.LonDeg, 6),
            ("gps_alt_ft", track.GpsAltitudeFt, 0),
            ("pressure_alt_ft", track.PressureAltitudeFt, 0),
            ("indicated_alt_ft", track.IndicatedAltitudeFt, 0),
            ("altimeter_setting_hpa", track.AltimeterSettingHpa, 0),
            ("ias_kt", track.IndicatedAirspeedKt, 1),
            ("tas_kt", track.TrueAirspeedKt, 1),
            ("heading_mag_deg", track.HeadingMagDeg, 1),
            ("roll_deg", track.BankDeg, 1),
            ("pitch_deg", track.PitchDeg, 1),
            ("vs_fpm", track.VerticalSpeedFpm, 0),
            ("ground_speed_kt", track.GroundSpeedKt, 1),
            ("ground_track_true_deg", track.CourseTrueDeg, 1),
            ("oat_c", track.OutsideAirTemperatureC, 1),
        ];
        columns.RemoveAll(c => c.Values is null);
        var text = new StringBuilder("utc,").AppendJoin(',', columns.Select(c => c.Name)).Append('\n');
        foreach (var i in Seconds(track))
        {
            text.Append(Time(track, i)).Append(',');
            text.AppendJoin(',', columns.Select(c => Figure(c.Values![i], c.Decimals))).Append('\n');
        }

        return text.ToString();
    }

    public static string Gpx(Track track)
    {
        var text = new StringBuilder(
            """
            <?xml version="1.0" encoding="UTF-8"?>
            <gpx version="1.1" creator="simulated flight recorder" xmlns="http://www.topografix.com/GPX/1/1">
             <trk><trkseg>

            """
        );
        foreach (var i in Seconds(track))
        {
            text.Append(
                    CultureInfo.InvariantCulture,
                    $"  <trkpt lat=\"{Figure(track.LatDeg[i], 7)}\" lon=\"{Figure(track.LonDeg[i], 7)}\">"
                )
                .Append(
                    CultureInfo.InvariantCulture,
                    $"<ele>{Figure(Units.FtToM(track.GpsAltitudeFt![i]), 1)}</ele><time>{Time(track, i)}</time></trkpt>\n"
                );
        }

        return text.Append(" </trkseg></trk>\n</gpx>\n").ToString();
    }

    private static IEnumerable<int> Seconds(Track track) =>
        Enumerable.Range(0, track.TimeS.Length).Where(i => Math.Abs(track.TimeS[i] - Math.Round(track.TimeS[i])) < 0.01);

    private static string Time(Track track, int i) =>
        track.EpochUtc.AddSeconds(Math.Round(track.TimeS[i])).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    private static string Figure(double value, int decimals) =>
        double.IsFinite(value) ? value.ToString("F" + decimals, CultureInfo.InvariantCulture) : "";
}
