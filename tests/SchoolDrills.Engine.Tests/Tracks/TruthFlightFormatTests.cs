using SchoolDrills.Accuracy;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>The simulated flights with known truth, as files.</summary>
public class TruthFlightFormatTests
{
    [Fact]
    public void Every_flight_reads_without_a_warning_and_equally_in_all_its_formats()
    {
        var flights = TruthFlight.In(TruthFlight.OwnFolder).ToList();
        Assert.Equal(15, flights.Count);
        foreach (var flight in flights)
        {
            var gpx = flight.Read("track.gpx");
            foreach (
                var file in new[] { "track.gpx", "air.csv", "track.igc", "track.nmea", "track.kml", "truth_1hz.csv" }.Where(flight.Has)
            )
            {
                var track = flight.Read(file);
                Assert.True(track.Warnings.Count == 0, $"{flight.Id} {file}: {string.Join(' ', track.Warnings)}");
                Assert.Equal(0, track.DroppedRecords);
                Assert.Equal(gpx.EpochUtc, track.EpochUtc);
                Assert.Equal(gpx.TimeS[^1], track.TimeS[^1], 1.0);
                Assert.Equal(gpx.LatDeg[0], track.LatDeg[0], 0.0005);
            }
        }
    }
}
