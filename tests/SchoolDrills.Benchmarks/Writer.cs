using System.Globalization;
using System.Text;

namespace SchoolDrills.Benchmarks;

/// <summary>A flight as the bytes that recorders write.</summary>
internal static class Writer
{
    private static readonly DateTime Start = new(2026, 2, 26, 18, 0, 0, DateTimeKind.Utc);

    public static byte[] Write(LongFlight flight, string format)
    {
        var text = new StringBuilder();
        Head(text, format);
        var airData = format == "csv" ? AirData() : [];
        for (var i = 0; i < flight.Count; i++)
        {
            var utc = Start.AddMilliseconds(Math.Round(flight.TimeS[i] * 1000));
            var (lat, lon, alt) = (flight.LatDeg[i], flight.LonDeg[i], flight.AltitudeM[i]);
            var fraction = flight.TimeS[i] % 1 == 0 ? "" : utc.ToString(".f", CultureInfo.InvariantCulture);
            switch (format)
            {
                case "gpx":
                    {
                        Part($"   <trkpt lat=\"{lat:F7}\" lon=\"{lon:F7}\">\n    <ele>{alt:F1}</ele>\n    <time>");
                        Line($"{utc:yyyy-MM-ddTHH:mm:ss}{fraction}Z</time>\n   </trkpt>");
                    }
                    break;
                case "kml":
                    Line($"<when>{utc:yyyy-MM-ddTHH:mm:ss}{fraction}Z</when>\n<gx:coord>{lon:F7} {lat:F7} {alt:F1}</gx:coord>");
                    break;
                case "igc":
                    {
                        Part($"B{utc:HHmmss}{Packed(lat, 2, "", 3)}{(lat < 0 ? 'S' : 'N')}");
                        Line($"{Packed(lon, 3, "", 3)}{(lon < 0 ? 'W' : 'E')}A00000{alt:00000}");
                    }
                    break;
                case "nmea":
                    var position = $"{Packed(lat, 2, ".", 4)},{(lat < 0 ? 'S' : 'N')},{Packed(lon, 3, ".", 4)},{(lon < 0 ? 'W' : 'E')}";
                    Sentence($"GPGGA,{utc:HHmmss}{fraction},{position},1,09,0.9,{alt:F1},M,-25.0,M,,");
                    Sentence($"GPRMC,{utc:HHmmss}{fraction},A,{position},089.9,084.4,{utc:ddMMyy},,");
                    break;
                default:
                    Line($"{utc:yyyy-MM-ddTHH:mm:ss}{fraction}Z,{lat:F6},{lon:F6},{airData[(int)flight.TimeS[i] % airData.Length]}");
                    break;
            }
        }

        if (format == "gpx")
            text.Append("  </trkseg>\n </trk>\n</gpx>\n");
        if (format == "kml")
            text.Append("</gx:Track></Placemark></Document></kml>\n");
        return Encoding.UTF8.GetBytes(text.ToString());

        void Line(FormattableString line) => Part(line).Append('\n');

        StringBuilder Part(FormattableString part) => text.Append(part.ToString(CultureInfo.InvariantCulture));

        void Sentence(FormattableString body)
        {
            var line = body.ToString(CultureInfo.InvariantCulture);
            text.Append(CultureInfo.InvariantCulture, $"${line}*{line.Aggregate(0, (sum, c) => sum ^ c):X2}\r\n");
        }
    }

    private static void Head(StringBuilder text, string format)
    {
        text.Append(
            format switch
            {
                "gpx" => "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<gpx version=\"1.1\" creator=\"benchmark\" "
                    + "xmlns=\"http://www.topografix.com/GPX/1/1\">\n <trk>\n  <trkseg>\n",
                "kml" => "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<kml xmlns=\"http://www.opengis.net/kml/2.2\" "
                    + "xmlns:gx=\"http://www.google.com/kml/ext/2.2\"><Document><Placemark><gx:Track>\n",
                "igc" => "AXXXBEN\nHFDTE260226\nHFALGALTGPS:GEO\n",
                "csv" => File.ReadLines(Recorded()).First() + "\n",
                _ => "",
            }
        );
    }

    /// <summary>Air data of an aircraft's own recorder, one line a second.</summary>
    private static string[] AirData() => [.. File.ReadLines(Recorded()).Skip(1).Select(l => l.Split(',', 4)[3])];

    private static string Recorded() => Path.Combine(AppContext.BaseDirectory, "Recordings", "f10.csv");

    private static string Packed(double deg, int digits, string point, int decimals)
    {
        var scale = (int)Math.Pow(10, decimals);
        var units = (long)Math.Round(Math.Abs(deg) * 60 * scale);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{(units / (60 * scale)).ToString("D" + digits, CultureInfo.InvariantCulture)}{units / scale % 60:D2}{point}"
                + $"{(units % scale).ToString("D" + decimals, CultureInfo.InvariantCulture)}"
        );
    }
}
