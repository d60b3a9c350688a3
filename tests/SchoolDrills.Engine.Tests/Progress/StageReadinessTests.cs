using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Progress;

public sealed class StageReadinessTests
{
    private static readonly TrainingStage First = new("first", "First", [new("square", 2, 3)]);

    private static readonly TrainingStage Second = new("second", "Second", [new("square", 1, 1), new("circles", 1, 2)]);

    [Theory]
    [InlineData("", null, "not flown yet; 2 of the last 3 have to be met")]
    [InlineData("m", null, "1 of the last 1 met; 2 of the last 3 have to be")]
    [InlineData("mcn", null, "1 of the last 3 met; 2 of the last 3 have to be")]
    [InlineData("mm", "second", null)]
    [InlineData("nmcm", "second", null)]
    [InlineData("mmcc", null, "1 of the last 3 met; 2 of the last 3 have to be")]
    public void Two_of_the_newest_three_have_to_be_met(string verdicts, string? next, string? missing)
    {
        var readiness = StageReadiness.Of([First, Second], Flown("square", verdicts));
        Assert.Equal(next ?? "first", readiness.Stage!.Slug);
        if (next is null)
            Assert.Equal(missing, Assert.Single(readiness.Drills).Missing);
        Assert.False(readiness.Ready);
    }

    [Fact]
    public void Who_has_met_all_stands_ready_at_the_last_stage()
    {
        var readiness = StageReadiness.Of([First, Second], [.. Flown("square", "mmm"), .. Flown("circles", "nm")]);
        Assert.Equal(("second", true), (readiness.Stage!.Slug, readiness.Ready));
        Assert.Equal([Verdict.Met, Verdict.NotMet], readiness.Drills[1].Evidence.Select(e => e.Verdict));
    }

    [Fact]
    public void A_school_without_stages_says_nothing_of_anybody()
    {
        var readiness = StageReadiness.Of([], Flown("square", "mmm"));
        Assert.Equal((null, false), (readiness.Stage, readiness.Ready));
    }

    /// <summary>One attempt a letter, oldest first: m met, c close, n not met.</summary>
    private static StageAttempt[] Flown(string drill, string verdicts) =>
        [
            .. verdicts.Select(
                (v, i) =>
                    new StageAttempt(
                        Guid.CreateVersion7(),
                        drill,
                        Students.Today.AddDays(i),
                        v switch
                        {
                            'm' => Verdict.Met,
                            'c' => Verdict.Close,
                            _ => Verdict.NotMet,
                        },
                        Graded: false
                    )
            ),
        ];
}

public sealed class CountedShareTests
{
    [Fact]
    public void Two_attempts_are_too_little_data() => Assert.Equal("too little data: 2 of 3 attempts", CountedShare.Of(2, 1).Reason);

    /// <summary>By hand, Wilson's score interval with z = 1.2816 of 5 in 10: (0.5 + 0.0821 ± 1.2816 √(0.025 + 0.0041)) / 1.1642.</summary>
    [Fact]
    public void Five_of_ten_lie_between_0_31_and_0_69()
    {
        var share = CountedShare.Of(10, 5);
        Assert.Equal(0.5, share.NotMetShare!.Value, 1e-12);
        Assert.Equal(0.312, share.Interval!.Value.Lo, 0.001);
        Assert.Equal(0.688, share.Interval!.Value.Hi, 0.001);
    }

    [Theory]
    [InlineData(3, 3, false)]
    [InlineData(9, 9, false)]
    [InlineData(10, 10, true)]
    [InlineData(40, 34, false)]
    [InlineData(100, 90, true)]
    public void Nearly_everybody_fails_from_ten_attempts_on_and_only_surely(int attempts, int notMet, bool nearlyAll) =>
        Assert.Equal(nearlyAll, CountedShare.Of(attempts, notMet).IsNearlyAll);

    [Fact]
    public void The_median_of_days_needs_three()
    {
        Assert.Equal((null, "too little data: 2 of 3 attempts"), MedianDays.Of([(4, 2)]));
        Assert.Equal((2, null), MedianDays.Of([(9, 1), (0, 1), (2, 1)]));
        Assert.Equal((1, null), MedianDays.Of([(1, 2), (5, 2)]));
    }
}

public sealed class GradingDriftTests
{
    [Fact]
    public void Nine_grades_are_too_little_data() =>
        Assert.Equal("too little data: 9 of 10 attempts", GradingDrift.Of([.. new int[9]], [.. new int[20]]).Reason);

    /// <summary>
    /// By hand: differences ±1 in equal parts, ten each, have the variance 10/9; the change of the mean by 1 has the standard error
    /// √(2/9) = 0.471 and, by Welch, 18 degrees of freedom, whose upper tenth is at 1.330: 1 ± 0.627.
    /// </summary>
    [Fact]
    public void A_change_is_claimed_where_its_interval_does_not_hold_zero()
    {
        int[] even = [1, -1, 1, -1, 1, -1, 1, -1, 1, -1];
        var drift = GradingDrift.Of(even, [.. even.Select(d => d + 1)]);
        Assert.Equal(1, drift.Change!.Value, 1e-12);
        Assert.Equal(1 - 0.627, drift.Interval!.Value.Lo, 0.001);
        Assert.True(drift.Claimed);
        var none = GradingDrift.Of(even, even);
        Assert.Equal((false, "no clear change"), (none.Claimed, none.Reason));
    }
}
