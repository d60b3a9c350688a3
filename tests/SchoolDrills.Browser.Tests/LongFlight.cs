using System.Globalization;
using System.Xml.Linq;

namespace SchoolDrills.Browser.Tests;

/// <summary>A recording flown on after its drill in one wide turn, a fix a second, until it is as long as wanted.</summary>
internal static class LongFlight
{
    private const double TurnDegPerS = 0.5;

    private static readonly XNamespace Gpx = "http://www.topografix.com/GPX/1/1";

    public static Stream Of(string recording, int fixes)
    {
        var document = XDocument.Load(recording);
        var segment = document.Descendants(Gpx + "trkseg").Single();
        var points = segment.Elements(Gpx + "trkpt").ToList();
        var (before, last) = (points[^2], points[^1]);
        var (lat, lon) = (Number(last, "lat"), Number(last, "lon"));
        var shrink = Math.Cos(lat * Math.PI / 180);
        var (north, east) = (lat - Number(before, "lat"), (lon - Number(before, "lon")) * shrink);
        var time = DateTimeOffset.Parse(last.Element(Gpx + "time")!.Value, CultureInfo.InvariantCulture);
        var (sin, cos) = Math.SinCos(TurnDegPerS * Math.PI / 180);
        for (var i = points.Count; i < fixes; i++)
        {
            (north, east) = ((north * cos) - (east * sin), (east * cos) + (north * sin));
            (lat, lon, time) = (lat + north, lon + (east / shrink), time.AddSeconds(1));
            segment.Add(
                new XElement(
                    Gpx + "trkpt",
                    new XAttribute("lat", Text(lat)),
                    new XAttribute("lon", Text(lon)),
                    new XElement(last.Element(Gpx + "ele")!),
                    new XElement(Gpx + "time", time.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture))
                )
            );
        }

        var bytes = new MemoryStream();
        document.Save(bytes);
        bytes.Position = 0;
        return bytes;
    }

    private static double Number(XElement point, string name) => double.Parse(point.Attribute(name)!.Value, CultureInfo.InvariantCulture);

    private static string Text(double degrees) => degrees.ToString("F7", CultureInfo.InvariantCulture);
}
