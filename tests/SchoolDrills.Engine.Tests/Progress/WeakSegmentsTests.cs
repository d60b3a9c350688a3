using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;
using Xunit;
using static SchoolDrills.Engine.Tests.Progress.Students;

namespace SchoolDrills.Engine.Tests.Progress;

public sealed class WeakSegmentsTests
{
    private static readonly SegmentGroup Like = new(SegmentKind.ClimbTurn, Parameter.Altitude, 3, null, HasAirData: false);

    /// <summary>Nineteen of the school's other students, each as good as the next: two in ten not met.</summary>
    private static readonly List<SegmentTally> School = [.. Enumerable.Repeat(new SegmentTally(Like, 10, 10, 2), 19)];

    private static WeakSegment One(IEnumerable<SegmentMeasurement> measured, IEnumerable<SegmentTally>? others = null) =>
        Assert.Single(WeakSegments.Of(measured, others ?? [], Today));

    [Fact]
    public void Two_attempts_are_too_little_data_however_bad()
    {
        var weak = One(Flown("xxxx", "xxxx"));
        Assert.False(weak.Recurring);
        Assert.Equal("too little data: 2 of 3 attempts", weak.Reason);
    }

    [Fact]
    public void Six_attempts_that_all_fail_are_recurring_against_a_school_that_does_better()
    {
        var weak = One(Flown("xxxx", "xxxx", "xxxx", "xxx.", "xxxx", "xxxx"), School);
        Assert.True(weak.Recurring, $"{weak}");
        Assert.Null(weak.Reason);
    }

    [Fact]
    public void One_bad_flight_among_good_ones_is_not_recurring() =>
        Assert.False(One(Flown("....", "....", "xxxx", "....", "....")).Recurring);

    [Fact]
    public void Few_attempts_are_pulled_to_the_mean_of_the_school()
    {
        var alone = One(Flown("x", "x", "x"));
        var inSchool = One(Flown("x", "x", "x"), School);
        Assert.True(inSchool.NotMetShare < alone.NotMetShare - 0.2, $"{inSchool.NotMetShare} {alone.NotMetShare}");
        Assert.Equal(19, inSchool.Prior.Students);
        Assert.Equal(SchoolPrior.Jeffreys, alone.Prior);
    }

    [Fact]
    public void Old_attempts_count_less()
    {
        List<SegmentMeasurement> thenBadNowGood =
        [
            .. Enumerable.Range(0, 4).Select(i => Segment(Guid.NewGuid(), 700 + i, Verdict.NotMet)),
            .. Enumerable.Range(0, 4).Select(i => Segment(Guid.NewGuid(), i)),
        ];
        var weak = One(thenBadNowGood);
        Assert.InRange(weak.NotMetShare, 0, 0.2);
        Assert.Equal(Today.AddDays(-700), weak.LastSeenUtc);
    }

    [Fact]
    public void The_example_is_the_newest_segment_not_met()
    {
        var measured = Flown("x.x.", ".xx.", "....");
        var weak = One(measured);
        var newest = measured.Where(m => m.Verdict == Verdict.NotMet).MaxBy(m => (m.FlownAtUtc, m.SegmentIndex))!;
        Assert.Equal((newest.AttemptId, 2), (weak.ExampleAttemptId!.Value, weak.ExampleSegmentIndex!.Value));
    }

    [Fact]
    public void The_worst_comes_first_and_levels_are_apart()
    {
        var easier = Group with { DrillSlug = "racetrack", Level = 2 };
        var weak = WeakSegments.Of(
            [.. Flown(".", ".", ".", "."), .. Flown("x", "x", "x", "x").Select(m => m with { Group = easier })],
            [],
            Today
        );
        Assert.Equal([2, 3], weak.Select(w => w.Group.Level));
        Assert.Equal(["racetrack"], weak[0].DrillSlugs);
        Assert.Null(weak[1].ExampleAttemptId);
    }

    [Fact]
    public void Drills_of_one_level_are_joined_and_named()
    {
        var other = Group with { DrillSlug = "racetrack" };
        var weak = One([.. Flown("x", "x"), .. Flown("x").Select(m => m with { Group = other })]);
        Assert.Equal(["box-circles", "racetrack"], weak.DrillSlugs);
        Assert.Equal(3, weak.Attempts);
    }

    [Fact]
    public void What_was_not_measured_is_no_evidence() =>
        Assert.Empty(WeakSegments.Of([Segment(Guid.NewGuid(), 1, Verdict.NotMeasured)], [], Today));

    /// <summary>A school whose students differ as a beta distribution of that strength, about that mean.</summary>
    [Theory]
    [InlineData(0.2, 4)]
    [InlineData(0.35, 8)]
    [InlineData(0.5, 2)]
    public void Four_in_five_intervals_hold_the_true_share(double mean, double strength)
    {
        var random = new Random(3);
        var (covered, alarms, innocent) = (0, 0, 0);
        const int Trials = 1500;
        for (var i = 0; i < Trials; i++)
        {
            var others = Enumerable.Range(0, 25).Select(_ => TallyOf(Flown(random, OfDay(random, mean, strength), 8, 4, 7)));
            var notMet = OfDay(random, mean, strength);
            var weak = One(Flown(random, notMet, random.Next(3, 12), 4, 7), [.. others]);
            covered += weak.Interval.Lo <= notMet && notMet <= weak.Interval.Hi ? 1 : 0;
            if (notMet <= ProgressModel.RecurringShare)
            {
                innocent++;
                alarms += weak.Recurring ? 1 : 0;
            }
        }

        TestContext.Current.TestOutputHelper!.WriteLine(
            $"covered {covered / (double)Trials:0.000}, alarms {alarms / (double)innocent:0.000}"
        );
        Assert.InRange(covered / (double)Trials, 0.75, 0.85);
        Assert.InRange(alarms / (double)innocent, 0, 0.05);
    }

    /// <summary>The hardest case: a student who fails just as often as is still not weak, without a school to compare with.</summary>
    [Theory]
    [InlineData(3)]
    [InlineData(6)]
    [InlineData(12)]
    [InlineData(25)]
    public void Fewer_than_one_in_twenty_is_called_recurring_who_is_not(int attempts)
    {
        var random = new Random(4);
        var alarms = ShareOf(3000, () => One(Flown(random, ProgressModel.RecurringShare, attempts, 4, 7)).Recurring);
        TestContext.Current.TestOutputHelper!.WriteLine($"alarms {alarms:0.000}");
        Assert.InRange(alarms, 0, 0.05);
    }

    [Fact]
    public void Nine_in_ten_who_fail_three_in_four_are_found_in_twelve_attempts()
    {
        var random = new Random(5);
        List<SegmentTally> school = [.. Enumerable.Range(0, 25).Select(_ => TallyOf(Flown(random, OfDay(random, 0.3, 4), 8, 4, 7)))];
        var found = ShareOf(500, () => One(Flown(random, 0.75, 12, 4, 7), school).Recurring);
        TestContext.Current.TestOutputHelper!.WriteLine($"found {found:0.000}");
        Assert.InRange(found, 0.9, 1);
    }

    private static SegmentTally TallyOf(List<SegmentMeasurement> flown) =>
        new(
            SegmentGroup.Of(flown[0]),
            flown.DistinctBy(m => m.AttemptId).Count(),
            flown.Count,
            flown.Count(m => m.Verdict == Verdict.NotMet)
        );
}
