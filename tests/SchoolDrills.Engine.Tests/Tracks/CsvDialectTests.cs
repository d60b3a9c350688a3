using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>Random tables in random dialects, the same in every run, read back as what they were.</summary>
public class CsvDialectTests
{
    [Fact]
    public void A_table_written_in_any_dialect_comes_back_as_it_was()
    {
        var random = new Random(20261125);
        for (var round = 0; round < 2_000; round++)
        {
            var samples = Samples(random);
            var dialect = new CsvDialect(random);
            var text = dialect.Write(samples);
            var result = Recording.ReadText(text);
            var what = $"round {round}, {dialect}: {result.Problem?.Message}\n{text[..Math.Min(text.Length, 1500)]}";
            Assert.True(result.Track?.Count == samples.Count && result.Track.DroppedRecords == 0, what);
            var track = result.Track!;
            for (var i = 0; i < samples.Count; i++)
            {
                var ok =
                    Math.Abs((Recording.TimeOf(track, i).UtcDateTime - samples[i].Utc).TotalMilliseconds) < 0.5
                    && Math.Abs(track.LatDeg[i] - samples[i].LatDeg) < 1e-9
                    && Math.Abs(track.LonDeg[i] - samples[i].LonDeg) < 1e-9
                    && Near(track.IndicatedAltitudeFt, i, samples[i].AltitudeFt)
                    && Near(track.IndicatedAirspeedKt, i, samples[i].AirspeedKt)
                    && Near(track.VerticalSpeedFpm, i, samples[i].VerticalSpeedFpm)
                    && Near(track.HeadingMagDeg, i, samples[i].HeadingDeg);
                Assert.True(ok, $"record {i} of {what}");
            }
        }
    }

    /// <summary>Six decimals of metres a second are 0.0002 ft/min.</summary>
    private static bool Near(double[]? column, int i, double expected) => column is not null && Math.Abs(column[i] - expected) < 3e-4;

    private static List<CsvSample> Samples(Random random)
    {
        var utc = new DateTime(2001, 1, 1, 0, 0, 0, DateTimeKind.Utc).AddDays(random.Next(0, 12_000)).AddSeconds(random.Next(0, 86_400));
        var samples = new List<CsvSample>();
        for (var i = random.Next(3, 12); i >= 0; i--)
        {
            utc = utc.AddMilliseconds(random.Next(1, 8) * 250);
            samples.Add(
                new CsvSample(
                    utc,
                    random.Next(-539_000_000, 539_000_000) / 6_000_000.0,
                    random.Next(-1_079_000_000, 1_079_000_000) / 6_000_000.0,
                    random.Next(-200, 12_000),
                    random.Next(0, 1_500) / 10.0,
                    random.Next(-2_000, 2_000),
                    random.Next(0, 3_600) / 10.0
                )
            );
        }

        return samples;
    }
}
