using MathNet.Numerics.Distributions;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;
using Xunit;
using static SchoolDrills.Engine.Tests.Progress.Students;

namespace SchoolDrills.Engine.Tests.Progress;

public sealed class LoadProgressTests
{
    private const double Required = 0.9;

    /// <summary>
    /// By hand: biases 1, 2 and 0 have mean 1, variance 1 and standard error 1/√3; Student's t of two degrees of freedom is 1.8856 at
    /// 90 % (any table): 1 ± 1.0887.
    /// </summary>
    [Fact]
    public void Own_ratings_have_a_bias_with_the_interval_of_Students_t()
    {
        var own = Of(Flown(1, level: 2, own: 3), Flown(2, level: 3, own: 5), Flown(3, level: 4, own: 4), Flown(4, level: 1)).OwnRating;
        Assert.Equal((3, 1.0), (own.Attempts, own.Bias!.Value));
        Assert.Equal(1 - 1.0887, own.Interval!.Value.Lo, 0.0001);
        Assert.Equal(1 + 1.0887, own.Interval.Value.Hi, 0.0001);
    }

    [Fact]
    public void Two_attempts_with_a_rating_are_too_little_data()
    {
        var own = Of(Flown(1, level: 2, own: 3), Flown(2, level: 3, own: 5), Flown(3, level: 4)).OwnRating;
        Assert.Equal((2, null, "too little data: 2 of 3 attempts"), (own.Attempts, own.Bias, own.Reason));
    }

    /// <summary>By hand: whole numbers are known to 1/√12 each, together √(1/6); over four attempts and t 1.6377 that is 0.334.</summary>
    [Fact]
    public void Ratings_that_agree_throughout_agree_within_their_steps()
    {
        var own = Of([.. Enumerable.Range(0, 4).Select(i => Flown(i, level: 3, own: 3))]).OwnRating;
        Assert.Equal(0, own.Bias);
        Assert.Equal(0.334, own.Interval!.Value.Hi, 0.001);
    }

    [Fact]
    public void Four_in_five_intervals_hold_the_true_bias_of_ratings()
    {
        var random = new Random(11);
        var truth = Of([.. Enumerable.Range(0, 20_000).Select(i => Felt(random, i))]).OwnRating.Bias!.Value;
        var covered = ShareOf(
            1500,
            () =>
                Of([.. Enumerable.Range(0, random.Next(3, 12)).Select(i => Felt(random, i))]).OwnRating.Interval is { } interval
                && interval.Lo <= truth
                && truth <= interval.Hi
        );
        TestContext.Current.TestOutputHelper!.WriteLine($"true {truth:0.000}, covered {covered:0.000}");
        Assert.InRange(covered, 0.75, 0.85);

        // A student who feels half a step more than there is, less near the end of the scale, and rates in whole numbers.
        static LoadAttempt Felt(Random random, int daysAgo)
        {
            var level = random.Next(1, 6);
            return Flown(daysAgo, level, Math.Clamp(Math.Round(level + Normal.Sample(random, 0.5, 0.9)), 1, 5));
        }
    }

    /// <summary>
    /// By hand: of six flows two were missed, in three attempts: two like checks an attempt count as 6 / (1 + 0.3 (2 − 1)) = 4.615
    /// samples, and Wilson's interval of 1/3 at z 1.2816 is 0.126 to 0.632.
    /// </summary>
    [Fact]
    public void Checks_missed_are_counted_by_kind_and_by_name()
    {
        var checks = Of([
            .. Enumerable
                .Range(0, 3)
                .Select(i =>
                    Flown(
                        i,
                        level: 3,
                        checks:
                        [
                            Check("Entry flow", CheckKind.Flow, i < 2 ? LoadOutcome.Missed : LoadOutcome.InTime),
                            Check("Exit flow", CheckKind.Flow, LoadOutcome.Late),
                            Check("Cruise", CheckKind.Checklist, LoadOutcome.InTime),
                            Check("Unseen", CheckKind.Checklist, LoadOutcome.NotNoted),
                        ]
                    )
                ),
        ]).Checks;
        Assert.Equal(
            [
                (CheckKind.Flow, null, 6, 3, 2),
                (CheckKind.Checklist, null, 3, 0, 0),
                (CheckKind.Flow, "Entry flow", 3, 0, 2),
                (CheckKind.Checklist, "Cruise", 3, 0, 0),
                (CheckKind.Flow, "Exit flow", 3, 3, 0),
            ],
            checks.Select(c => (c.Kind!.Value, c.Name, c.Due, c.Late, c.Missed.NotMet))
        );
        var flows = checks[0].Missed;
        Assert.Equal(1 / 3.0, flows.NotMetShare!.Value, 1e-9);
        var (share, n, z) = (1 / 3.0, 6 / 1.3, 1.2816);
        var centre = (share + (z * z / (2 * n))) / (1 + (z * z / n));
        var half = z / (1 + (z * z / n)) * Math.Sqrt((share * (1 - share) / n) + (z * z / (4 * n * n)));
        Assert.Equal(centre - half, flows.Interval!.Value.Lo, 0.001);
        Assert.Equal(centre + half, flows.Interval.Value.Hi, 0.001);
        Assert.Equal(
            "too little data: 2 of 3 attempts",
            Of(Flown(1, 3, checks: [Missed()]), Flown(2, 3, checks: [Missed()])).Checks[0].Missed.Reason
        );

        static CheckResult Missed() => Check("Entry flow", CheckKind.Flow, LoadOutcome.Missed);
    }

    [Fact]
    public void The_highest_load_held_is_that_of_an_attempt_in_tolerance_and_five_of_these_may_show_a_trend()
    {
        var reached = Assert.Single(
            Of([
                Flown(9, level: 5, within: 0.6),
                .. Enumerable.Range(0, 6).Select(i => Flown(8 - i, level: 1 + (i / 2) + (i % 2), within: 0.9)),
                Flown(1, level: 5, within: 0.89),
                Flown(0, level: 2, within: null),
            ]).Reached
        );
        Assert.Equal(8, reached.Points.Count);
        Assert.Equal([5, 1, 2, 2, 3, 3, 4, 5], reached.Points.Select(p => p.Level));
        Assert.Equal([false, true, true, true, true, true, true, false], reached.Points.Select(p => p.Held));
        Assert.Equal(4, reached.HighestHeld);
        // By hand: of the slopes between all pairs of 1, 2, 2, 3, 3, 4 the median is ½.
        Assert.Equal(0.5, reached.Trend.PerAttempt);
    }

    [Fact]
    public void Four_attempts_held_show_no_trend_and_none_held_has_no_highest()
    {
        var four = Assert.Single(Of([.. Enumerable.Range(0, 4).Select(i => Flown(9 - i, level: 1 + i, within: 1))]).Reached);
        Assert.Equal("too little data: 4 of 5 attempts", four.Trend.Reason);
        Assert.Null(Assert.Single(Of(Flown(1, level: 4, within: 0.5)).Reached).HighestHeld);
        Assert.Empty(Of().Reached);
    }

    private static LoadProgress Of(params LoadAttempt[] attempts) => LoadProgress.Of(attempts, Required);

    private static LoadAttempt Flown(
        int daysAgo,
        int level,
        double? own = null,
        double? within = 0.9,
        params IReadOnlyList<CheckResult> checks
    ) => new(Guid.NewGuid(), Group, Today.AddDays(-daysAgo), level, within, own, checks);

    private static CheckResult Check(string name, CheckKind kind, LoadOutcome outcome) =>
        new(name, 0, Today, Today.AddSeconds(30), null, outcome) { Kind = kind };
}
