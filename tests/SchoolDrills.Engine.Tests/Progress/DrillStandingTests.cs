using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Progress;

public sealed class DrillStandingTests
{
    [Fact]
    public void Four_poor_attempts_are_not_called_stuck_and_five_are()
    {
        Assert.Equal(new DrillStanding(Going.Undecided, null), Of(0.5, 0.6, 0.5, 0.6));
        var five = Of(0.5, 0.6, 0.5, 0.6, 0.55);
        Assert.Equal(Going.Stuck, five.Going);
        // (0.5 + 0.6 + 0.55) / 3 = 0.55
        Assert.Equal("5 attempts without a clear gain: 55% of the time in tolerance lately, 90% asked", five.Reason);
    }

    [Fact]
    public void Who_gains_five_points_an_attempt_is_not_stuck() => Assert.Equal(Going.Undecided, Of(0.50, 0.55, 0.60, 0.65, 0.70).Going);

    /// <summary>A tenth of a point an attempt: the 40 points missing are 400 attempts away.</summary>
    [Fact]
    public void A_gain_too_slow_to_arrive_is_stuck() =>
        Assert.StartsWith(
            "6 attempts, and more than 40 to go",
            Of(0.500, 0.501, 0.502, 0.503, 0.504, 0.505).Reason,
            StringComparison.Ordinal
        );

    [Fact]
    public void Three_met_in_a_row_are_ready_and_two_are_not()
    {
        WholeAttempt met = new(0.95, Verdict.Met),
            close = new(0.85, Verdict.Close);
        Assert.Equal(Going.Ready, DrillStanding.Of([close, met, met, met], 0.9).Going);
        Assert.Equal(Going.Undecided, DrillStanding.Of([met, met], 0.9).Going);
        Assert.Equal(Going.Undecided, DrillStanding.Of([met, met, met, close], 0.9).Going);
    }

    [Fact]
    public void Whose_newest_attempt_was_met_is_not_stuck() =>
        Assert.Equal(
            Going.Undecided,
            DrillStanding
                .Of([.. Enumerable.Repeat(new WholeAttempt(0.6, Verdict.NotMet), 5), new WholeAttempt(0.92, Verdict.Met)], 0.9)
                .Going
        );

    private static DrillStanding Of(params double[] shares) =>
        DrillStanding.Of([.. shares.Select(s => new WholeAttempt(s, Verdict.NotMet))], 0.9);
}
