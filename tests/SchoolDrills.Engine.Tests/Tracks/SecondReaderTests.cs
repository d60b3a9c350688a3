using System.ComponentModel;
using System.Diagnostics;
using System.Xml;
using NetTopologySuite.IO;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>Readers written by others read the same recordings; they must agree with ours.</summary>
public class SecondReaderTests
{
    [Theory]
    [InlineData("f01.gpx")]
    [InlineData("f10.gpx")]
    [InlineData("f12.gpx")]
    [InlineData("f13.gpx")]
    [InlineData("f14.gpx.gz")]
    public void Another_GPX_library_reads_the_same_points(string name)
    {
        using var xml = XmlReader.Create(new MemoryStream(Recording.PlainBytes(name)));
        var points = GpxFile
            .ReadFrom(xml, new GpxReaderSettings())
            .Tracks.SelectMany(t => t.Segments)
            .SelectMany(s => s.Waypoints)
            .ToList();
        var track = Recording.GoodFile(name);
        Assert.Equal(points.Count, track.Count);
        for (var i = 0; i < points.Count; i++)
        {
            Assert.Equal(points[i].Latitude.Value, track.LatDeg[i], 1e-12);
            Assert.Equal(points[i].Longitude.Value, track.LonDeg[i], 1e-12);
            Assert.Equal(points[i].ElevationInMeters!.Value, track.GpsAltitudeFt![i] * 0.3048, 1e-9);
            Assert.Equal(points[i].TimestampUtc!.Value, Recording.TimeOf(track, i).UtcDateTime);
        }
    }

    [Theory]
    [InlineData("f13.gpx", "gpx")]
    [InlineData("f13.nmea", "nmea")]
    [InlineData("f14.igc.gz", "igc")]
    [InlineData("f07.igc.gz", "igc")]
    [InlineData("f01.kml", "kml")]
    public async Task Gpsbabel_reads_the_same_points(string name, string format)
    {
        var ours = Recording.GoodFile(name);
        var theirs = Recording.Good(Recording.ReadText(await ConvertedToGpx(name, format)));
        // Of an IGC it makes two tracks, pressure altitudes first, then satellite altitudes (seen with 1.8.0).
        var from = format == "igc" ? ours.Count : 0;
        Assert.Equal(from + ours.Count, theirs.Count);
        for (var i = 0; i < ours.Count; i++)
        {
            Assert.Equal(ours.LatDeg[i], theirs.LatDeg[from + i], 1e-8);
            Assert.Equal(ours.LonDeg[i], theirs.LonDeg[from + i], 1e-8);
            Assert.Equal(ours.GpsAltitudeFt![i], theirs.GpsAltitudeFt![from + i], 0.01);
            Assert.Equal(Recording.TimeOf(ours, i), Recording.TimeOf(theirs, from + i));
            if (format == "igc")
                Assert.Equal(ours.PressureAltitudeFt![i], theirs.GpsAltitudeFt[i], 0.01);
        }
    }

    private static async Task<string> ConvertedToGpx(string name, string format)
    {
        var ct = TestContext.Current.CancellationToken;
        var file = Path.GetTempFileName();
        try
        {
            await File.WriteAllBytesAsync(file, Recording.PlainBytes(name), ct);
            var start = new ProcessStartInfo("gpsbabel", ["-i", format, "-f", file, "-o", "gpx,gpxver=1.1", "-F", "-"])
            {
                RedirectStandardOutput = true,
                RedirectStandardError = true,
            };
            try
            {
                using var gpsbabel = Process.Start(start)!;
                var errors = gpsbabel.StandardError.ReadToEndAsync(ct);
                var gpx = await gpsbabel.StandardOutput.ReadToEndAsync(ct);
                await gpsbabel.WaitForExitAsync(ct);
                Assert.True(gpsbabel.ExitCode == 0, await errors);
                return gpx;
            }
            catch (Win32Exception)
            {
                Assert.Skip("gpsbabel is not installed; install it to compare with a second reader.");
                throw;
            }
        }
        finally
        {
            File.Delete(file);
        }
    }
}
