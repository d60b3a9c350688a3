using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tests.Reconstruction;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>Flights that can be read in more than one way: said in the report, with the choice left to a person.</summary>
public sealed class OtherReadingTests
{
    private static readonly ToleranceStandard Standard = Catalogue.Standards.Single(s => s.Slug == "instrument-rating");

    /// <summary>Five sides and corners: the square is the first four, or the last four.</summary>
    [Fact]
    public void A_square_with_a_fifth_side_is_told_both_ways()
    {
        var report = Score(new ScoringOptions());
        Assert.True(report.Found);
        var other = Assert.Single(report.Runs, r => r.ReadingOf is not null);
        var scored = Assert.Single(report.Runs, r => r.Scored);
        Assert.Equal((0, 1), (scored.Index, other.Index));
        Assert.Equal(0, other.ReadingOf);
        Assert.InRange(other.Share, 0.1, 0.5);
        Assert.Equal(1, scored.Share + other.Share, 0.02);
        Assert.Equal([0, 1], report.Readings.Select(r => r.Run));
        Assert.StartsWith("As scored: ", report.Readings[0].Text, StringComparison.Ordinal);
        Assert.Contains(other.StartUtc > scored.StartUtc ? " later:" : " earlier:", report.Readings[1].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void The_other_reading_is_scored_where_a_person_says_so()
    {
        var own = Score(new ScoringOptions());
        var other = Score(new ScoringOptions { Corrections = new ManualCorrections(Run: 1) });
        Assert.Equal(own.Runs.Count, other.Runs.Count);
        Assert.True(other.Runs[1].Scored);
        Assert.NotEqual(own.Segments[1].StartUtc, other.Segments[1].StartUtc);
        Assert.InRange(Math.Abs((own.Segments[1].StartUtc!.Value - other.Segments[1].StartUtc!.Value).TotalSeconds), 85, 95);
        Assert.Equal([0, 1], other.Readings.Select(r => r.Run));
        Assert.StartsWith("As scored: ", other.Readings[1].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_drill_that_stands_alone_leaves_no_doubt()
    {
        var report = AttemptScorer
            .Score(
                FlownByHand.TimedTurns().Reconstruct().State.Track.Source,
                Scored.Drill("timed-turns"),
                Standard,
                new ScoringOptions(),
                cancellation: TestContext.Current.CancellationToken
            )
            .Report;
        Assert.Equal(1, Assert.Single(report.Readings).Weight);
        Assert.Equal(1, Assert.Single(report.Runs).Share);
    }

    private static ScoreReport Score(ScoringOptions options)
    {
        var flight = new SyntheticFlight(6, -3).Fly(60);
        for (var corner = 0; corner < 5; corner++)
            flight.Turn(90).Fly(60);
        var track = flight.Fly(140).Record(noise: new Random(2));
        return AttemptScorer
            .Score(track, Scored.Drill("box-step-1-square"), Standard, options, cancellation: TestContext.Current.CancellationToken)
            .Report;
    }
}
