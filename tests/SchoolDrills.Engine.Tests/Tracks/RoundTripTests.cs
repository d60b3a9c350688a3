using System.Globalization;
using System.Text;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>Random samples, the same in every run, written in each format and read back; they must be what they were.</summary>
public class RoundTripTests
{
    private sealed record Sample(DateTime Utc, double LatDeg, double LonDeg, int AltitudeM);

    public static TheoryData<string> Formats =>
        ["gpx", "kml", "igc", "nmea", "csv", "csv-decimal-comma", "csv-local", "csv-epoch", "csv-minutes"];

    [Theory]
    [MemberData(nameof(Formats))]
    public void Samples_come_back_as_they_were(string format)
    {
        var random = new Random(20260711);
        for (var round = 0; round < 40; round++)
        {
            var samples = Samples(random);
            var track = Recording.GoodText(Written(samples, format));
            Assert.Equal(samples.Count, track.Count);
            Assert.Equal(0, track.DroppedRecords);
            for (var i = 0; i < samples.Count; i++)
            {
                Assert.Equal(samples[i].Utc, Recording.TimeOf(track, i).UtcDateTime);
                Assert.Equal(samples[i].LatDeg, track.LatDeg[i], 1e-9);
                Assert.Equal(samples[i].LonDeg, track.LonDeg[i], 1e-9);
                Assert.Equal(samples[i].AltitudeM, track.GpsAltitudeFt![i] * 0.3048, 1e-9);
            }
        }
    }

    /// <summary>Anywhere on Earth, on whole thousandths of minutes so that every format can hold them, often across midnight.</summary>
    private static List<Sample> Samples(Random random)
    {
        var start = new DateTime(1990, 1, 1, 23, 59, 0, DateTimeKind.Utc).AddDays(random.Next(0, 25_000)).AddSeconds(random.Next(0, 120));
        var (lat, lon) = (random.Next(-90 * 60_000, 90 * 60_000), random.Next(-180 * 60_000, 180 * 60_000));
        var samples = new List<Sample>();
        for (var i = 0; i < 30; i++)
        {
            start = start.AddSeconds(random.Next(1, 4));
            samples.Add(new Sample(start, lat / 60_000.0, lon / 60_000.0, random.Next(1, 9_000)));
            lat = Math.Clamp(lat + random.Next(-50, 50), -90 * 60_000, 90 * 60_000);
            lon = Math.Clamp(lon + random.Next(-50, 50), -180 * 60_000, 180 * 60_000);
        }
        return samples;
    }

    private static string Written(List<Sample> samples, string format)
    {
        var text = new StringBuilder();
        void Line(FormattableString line) => Part(line).Append('\n');

        StringBuilder Part(FormattableString part) => text.Append(part.ToString(CultureInfo.InvariantCulture));
        switch (format)
        {
            case "gpx":
                Line($"<gpx version=\"1.1\" xmlns=\"http://www.topografix.com/GPX/1/1\"><trk><trkseg>");
                foreach (var s in samples)
                {
                    Part($"<trkpt lon=\"{s.LonDeg:F10}\" lat=\"{s.LatDeg:F10}\"><ele>{s.AltitudeM}</ele><time>");
                    Line($"{s.Utc:yyyy-MM-ddTHH:mm:ss}Z</time></trkpt>");
                }
                Line($"</trkseg></trk></gpx>");
                break;
            case "kml":
                Line($"<kml xmlns:gx=\"http://www.google.com/kml/ext/2.2\"><Placemark><gx:Track>");
                foreach (var s in samples)
                    Line($"<when>{s.Utc:yyyy-MM-ddTHH:mm:ss}Z</when><gx:coord>{s.LonDeg:F10} {s.LatDeg:F10} {s.AltitudeM}</gx:coord>");
                Line($"</gx:Track></Placemark></kml>");
                break;
            case "igc":
                Line($"AXXX\nHFDTE{samples[0].Utc:ddMMyy}");
                foreach (var s in samples)
                {
                    Part($"B{s.Utc:HHmmss}{Packed(s.LatDeg, 2, "")}{(s.LatDeg < 0 ? 'S' : 'N')}");
                    Line($"{Packed(s.LonDeg, 3, "")}{(s.LonDeg < 0 ? 'W' : 'E')}A00000{s.AltitudeM:D5}");
                }
                break;
            case "nmea":
                foreach (var s in samples)
                {
                    Line($"{Sentence($"GNGGA,{s.Utc:HHmmss},{Position(s)},1,08,0.9,{s.AltitudeM},M,46.9,M,,")}");
                    Line($"{Sentence($"GNRMC,{s.Utc:HHmmss},A,{Position(s)},22.4,84.4,{s.Utc:ddMMyy},,")}");
                }
                break;
            case "csv":
                Line($"utc,lat,lon,gps alt (m)");
                foreach (var s in samples)
                    Line($"{s.Utc:yyyy-MM-ddTHH:mm:ss}Z,{s.LatDeg:F10},{s.LonDeg:F10},{s.AltitudeM}");
                break;
            case "csv-decimal-comma":
                Line($"utc;lat;lon;gps alt (m)");
                foreach (var s in samples)
                    Line($"{s.Utc:yyyy-MM-dd HH:mm:ss};{Comma(s.LatDeg)};{Comma(s.LonDeg)};{s.AltitudeM},0");
                break;
            case "csv-local":
                Line($"local date,local time,utc offset,lat,lon,gps alt (m)");
                foreach (var s in samples)
                {
                    Line(
                        $"{s.Utc.AddHours(13):yyyy-MM-dd},{s.Utc.AddHours(13):HH:mm:ss},+13:00,{s.LatDeg:F10},{s.LonDeg:F10},{s.AltitudeM}"
                    );
                }

                break;
            case "csv-epoch":
                Line($"time\tlat\tlon\tgps alt (m)");
                foreach (var s in samples)
                    Line($"{new DateTimeOffset(s.Utc).ToUnixTimeMilliseconds()}\t{s.LatDeg:F10}\t{s.LonDeg:F10}\t{s.AltitudeM}");
                break;
            case "csv-minutes":
                Line($"utc|lat|lon|gps alt (m)");
                foreach (var s in samples)
                {
                    Part($"{s.Utc:yyyy-MM-ddTHH:mm:ss}Z|{Packed(s.LatDeg, 2, ".")}{(s.LatDeg < 0 ? 'S' : 'N')}|");
                    Line($"{Packed(s.LonDeg, 3, ".")}{(s.LonDeg < 0 ? 'W' : 'E')}|{s.AltitudeM}");
                }
                break;
        }
        return text.ToString();
    }

    private static string Comma(double deg) => deg.ToString("F10", CultureInfo.InvariantCulture).Replace('.', ',');

    private static string Position(Sample s) =>
        $"{Packed(s.LatDeg, 2, ".")},{(s.LatDeg < 0 ? 'S' : 'N')},{Packed(s.LonDeg, 3, ".")},{(s.LonDeg < 0 ? 'W' : 'E')}";

    private static string Packed(double deg, int digits, string point)
    {
        var thousandths = (int)Math.Round(Math.Abs(deg) * 60_000);
        return (thousandths / 60_000).ToString("D" + digits, CultureInfo.InvariantCulture)
            + (thousandths % 60_000 / 1000).ToString("D2", CultureInfo.InvariantCulture)
            + point
            + (thousandths % 1000).ToString("D3", CultureInfo.InvariantCulture);
    }

    private static string Sentence(FormattableString body)
    {
        var text = body.ToString(CultureInfo.InvariantCulture);
        return $"${text}*{text.Aggregate(0, (sum, c) => sum ^ c):X2}";
    }
}
