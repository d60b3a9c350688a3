using System.Globalization;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tests.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>Whole recordings against what really happened in them: times and headings are the flight dynamics model's own record.</summary>
public sealed class AttemptScorerTests
{
    private static readonly ToleranceStandard Standard = Catalogue.Standards.Single(s => s.Slug == "instrument-rating");

    [Theory]
    [InlineData(
        "f01.gpx",
        "box-circles",
        "2026-02-11",
        360,
        3000,
        new[]
        {
            "21:04:33.220",
            "21:05:03.540",
            "21:07:03.850",
            "21:07:34.270",
            "21:08:04.780",
            "21:08:33.880",
            "21:10:34.650",
            "21:11:03.530",
            "21:11:33.480",
            "21:12:03.200",
            "21:14:03.610",
            "21:14:34.120",
            "21:15:04.910",
            "21:15:33.330",
            "21:17:33.930",
            "21:18:03.360",
        }
    )]
    [InlineData(
        "f13.gpx",
        "timed-turns",
        "2026-01-17",
        30,
        6000,
        new[] { "17:30:03.230", "17:31:03.740", "17:31:33.960", "17:32:04.050", "17:33:04.780", "17:33:33.600", "17:35:32.470" }
    )]
    [InlineData(
        "f13.csv",
        "timed-turns",
        "2026-01-17",
        30,
        6000,
        new[] { "17:30:03.230", "17:31:03.740", "17:31:33.960", "17:32:04.050", "17:33:04.780", "17:33:33.600", "17:35:32.470" }
    )]
    [InlineData(
        "f12.csv",
        "racetrack",
        "2026-11-05",
        350,
        2800,
        new[] { "20:10:08.570", "20:13:11.580", "20:14:12.340", "20:15:08.400", "20:16:12.680" }
    )]
    [InlineData(
        "f10.csv",
        "vertical-s-turning",
        "2026-08-18",
        90,
        3500,
        new[]
        {
            "03:27:43.570",
            "03:28:16.170",
            "03:29:18.470",
            "03:30:34.230",
            "03:31:34.630",
            "03:32:27.030",
            "03:33:36.120",
            "03:34:26.000",
        }
    )]
    public void Nine_segments_in_ten_begin_within_three_seconds_of_the_truth(
        string file,
        string drill,
        string date,
        double headingMagDeg,
        double altitudeFt,
        string[] starts
    )
    {
        var report = Score(file, drill);
        Assert.True(report.Found);
        Assert.Equal(headingMagDeg, report.Entry!.HeadingMagDeg);
        // Satellite height knows the altimeter's level to about a hundred feet only.
        Assert.Equal(altitudeFt, report.Entry.AltitudeFt, file.EndsWith(".gpx", StringComparison.Ordinal) ? 150 : 0.5);
        var misses = starts
            .Select(
                (start, k) =>
                    (
                        report.Segments[k].StartUtc!.Value - DateTimeOffset.Parse($"{date}T{start}Z", CultureInfo.InvariantCulture)
                    ).TotalSeconds
            )
            .Count(s => Math.Abs(s) > 3);
        Assert.True(misses <= starts.Length / 10, $"{misses} of {starts.Length} segments begin more than 3 s off.");
    }

    [Theory]
    [InlineData("f01.gpx", "racetrack")]
    [InlineData("f01.gpx", "timed-turns")]
    [InlineData("f12.csv", "box-circles")]
    [InlineData("f10.csv", "racetrack")]
    public void A_drill_that_was_not_flown_is_not_found(string file, string drill)
    {
        var report = Score(file, drill);
        Assert.False(report.Found);
        Assert.Empty(report.Segments);
        Assert.NotEmpty(report.NotMeasured);
    }

    /// <summary>
    /// Truth of f12: airspeed let go to 71.5 kt in the first straight; of f10: a turn begun 27° the wrong way in segment 2.
    /// </summary>
    [Fact]
    public void What_was_done_wrong_on_purpose_is_told()
    {
        Assert.Contains(
            Score("f12.csv", "racetrack").Findings,
            f => f is { SegmentIndex: 0 or 1, Kind: FindingKind.AirspeedDrift, Magnitude: > 15 and < 22 }
        );
        Assert.Contains(
            Score("f10.csv", "vertical-s-turning").Findings,
            f => f is { SegmentIndex: 1 or 2 or 3, Kind: FindingKind.WrongDirection }
        );
    }

    [Fact]
    public void An_excellent_flight_meets_the_standard_and_gives_no_findings()
    {
        var report = Score("f13.csv", "timed-turns");
        Assert.Equal(Verdict.Met, report.Overall.Verdict);
        Assert.Empty(report.Findings);
        Assert.Empty(report.Saturation);
    }

    [Fact]
    public void The_same_recording_scores_the_same_twice() =>
        Assert.Equivalent(Score("f13.gpx", "timed-turns"), Score("f13.gpx", "timed-turns"), strict: true);

    [Fact]
    public void A_recording_cut_to_a_few_points_is_not_scored()
    {
        var track = Recording.ReadFile("f13.csv").Track!;
        var few = new Engine.Tracks.Track
        {
            Format = track.Format,
            EpochUtc = track.EpochUtc,
            TimeS = track.TimeS[..5],
            LatDeg = track.LatDeg[..5],
            LonDeg = track.LonDeg[..5],
        };
        var report = AttemptScorer
            .Score(few, Catalogue.Templates[0], Standard, new ScoringOptions(), cancellation: TestContext.Current.CancellationToken)
            .Report;
        Assert.False(report.Found);
        Assert.Contains("usable positions", report.NotMeasured[0], StringComparison.Ordinal);
    }

    private static ScoreReport Score(string file, string drill) =>
        AttemptScorer
            .Score(
                Recording.ReadFile(file).Track!,
                Catalogue.Templates.Single(t => t.Slug == drill),
                Standard,
                new ScoringOptions(),
                cancellation: TestContext.Current.CancellationToken
            )
            .Report;
}
