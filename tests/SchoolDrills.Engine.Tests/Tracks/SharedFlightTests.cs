using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>The whole set of simulated flights, where it lies beside the project's root.</summary>
public class SharedFlightTests
{
    [Fact]
    public void Every_good_flight_reads_without_a_word_and_alike_in_all_its_formats()
    {
        var flights = Directory.GetDirectories(SharedFlights(), "f*");
        Assert.NotEmpty(flights);
        foreach (var flight in flights)
        {
            Track? gpx = null;
            foreach (
                var file in Directory
                    .GetFiles(flight)
                    .Where(f => !f.EndsWith(".json", StringComparison.Ordinal))
                    .OrderBy(f => !f.EndsWith(".gpx", StringComparison.Ordinal))
            )
            {
                using var stream = File.OpenRead(file);
                var track = Recording.Good(TrackReader.Read(stream, ct: TestContext.Current.CancellationToken));
                Assert.True(track.Warnings.Count == 0, $"{file}: {string.Join(' ', track.Warnings)}");
                Assert.Equal(0, track.DroppedRecords);
                gpx ??= track;
                Assert.Equal(gpx.EpochUtc, track.EpochUtc);
                Assert.Equal(gpx.TimeS[^1], track.TimeS[^1], 1.0);
                Assert.Equal(gpx.LatDeg[0], track.LatDeg[0], 0.0005);
            }
        }
    }

    [Fact]
    public void Every_damaged_flight_is_used_or_refused_as_its_damage_allows()
    {
        var refused = new List<string>();
        var told = new List<string>();
        foreach (
            var file in Directory
                .GetFiles(Path.Combine(SharedFlights(), "damaged"))
                .Where(f => Path.GetExtension(f) is not (".md" or ".json"))
        )
        {
            using var stream = File.OpenRead(file);
            var result = TrackReader.Read(stream, ct: TestContext.Current.CancellationToken);
            if (result.Problem is not null)
                refused.Add(Path.GetFileName(file));
            else if (result.Track!.Warnings.Count > 0)
                told.Add(Path.GetFileName(file));
        }
        Assert.Equal(["empty-track.gpx", "zero-bytes.csv"], refused.Order(StringComparer.Ordinal));
        Assert.Equal(
            ["altitude-in-metres.csv", "bad-checksums.nmea", "truncated.gpx", "truncated.igc"],
            told.Order(StringComparer.Ordinal)
        );
    }

    internal static string SharedFlights()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (!File.Exists(Path.Combine(folder.FullName, "SchoolDrills.sln")))
                continue;
            var flights = Path.Combine(folder.FullName, "..", "shared", "flights");
            if (Directory.Exists(flights))
                return flights;
        }
        Assert.Skip("The simulated flights do not lie beside the project (../shared/flights).");
        throw new InvalidOperationException();
    }
}
