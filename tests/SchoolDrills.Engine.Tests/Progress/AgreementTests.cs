using MathNet.Numerics.Distributions;
using SchoolDrills.Engine.Progress;
using Xunit;

namespace SchoolDrills.Engine.Tests.Progress;

public sealed class AgreementTests
{
    /// <summary>The worked example [20 5; 10 15]: 0.70 observed, 0.50 expected. Two grades have the same weights as unweighted.</summary>
    private static readonly List<(int, int)> Worked =
    [
        .. Enumerable.Repeat((0, 0), 20),
        .. Enumerable.Repeat((0, 1), 5),
        .. Enumerable.Repeat((1, 0), 10),
        .. Enumerable.Repeat((1, 1), 15),
    ];

    [Fact]
    public void The_worked_example_has_a_kappa_of_0_40()
    {
        var agreement = Agreement.Of(Worked, 2);
        Assert.Equal((50, null), (agreement.Shared, agreement.Reason));
        Assert.Equal(0.40, agreement.Kappa!.Value, 1e-12);
    }

    /// <summary>
    /// By hand, Fleiss, Cohen and Everitt's formula on that example: row sums ½ ½, column sums 0.6 0.4; the mean of squares is
    /// 0.4·0.34² + 0.1·0.66² + 0.2·0.54² + 0.3·0.46² = 0.2116; less 0.1², over 0.5²: 0.8064; over 50 pairs, the root: 0.1270.
    /// </summary>
    [Fact]
    public void The_worked_example_has_a_standard_error_of_0_13() =>
        Assert.Equal(
            0.1274,
            Math.Sqrt(
                Agreement.Variance(
                    new[,]
                    {
                        { 0.4, 0.1 },
                        { 0.2, 0.3 },
                    }
                ) / 50
            ),
            0.003
        );

    /// <summary>
    /// By hand, weights 1, ¾ and 0: of twelve two differ by one grade and one by two, 10.5 of 12 observed; margins of thirds give 2/3
    /// expected.
    /// </summary>
    [Fact]
    public void Grades_one_apart_count_a_quarter_of_grades_two_apart()
    {
        List<(int, int)> pairs =
        [
            .. Enumerable.Repeat((0, 0), 3),
            .. Enumerable.Repeat((1, 1), 3),
            .. Enumerable.Repeat((2, 2), 3),
            (0, 1),
            (1, 2),
            (2, 0),
        ];
        Assert.Equal(((10.5 / 12) - (2 / 3.0)) / (1 / 3.0), Agreement.Of(pairs, 3).Kappa!.Value, 1e-12);
    }

    [Fact]
    public void Grades_that_agree_throughout_are_not_certain_to_agree()
    {
        var agreement = Agreement.Of([.. Enumerable.Range(0, 12).Select(i => (i % 3, i % 3))], 3);
        Assert.Equal(1, agreement.Kappa!.Value, 1e-12);
        Assert.InRange(agreement.Interval!.Value.Lo, 0.6, 0.98);
    }

    [Fact]
    public void Nine_shared_attempts_are_too_little_data() =>
        Assert.Equal(new Agreement(9, null, null, "too little data: 9 of 10 attempts"), Agreement.Of([.. Enumerable.Repeat((0, 1), 9)], 2));

    [Fact]
    public void One_grade_for_all_says_nothing_of_agreement() =>
        Assert.Equal(
            "all grades are the same, so chance agreement cannot be told apart",
            Agreement.Of([.. Enumerable.Repeat((1, 1), 20)], 3).Reason
        );

    [Fact]
    public void A_grade_outside_the_scale_is_refused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Agreement.Of([.. Enumerable.Repeat((0, 3), 20)], 3));

    /// <summary>Two who each see the flight with an error of their own; the true kappa is that of a hundred thousand attempts.</summary>
    [Theory]
    [InlineData(15, 0.6)]
    [InlineData(30, 0.4)]
    [InlineData(60, 0.8)]
    public void Four_in_five_intervals_hold_the_true_kappa(int shared, double error)
    {
        var random = new Random(8);
        var truth = Agreement.Of([.. Enumerable.Range(0, 100_000).Select(_ => Pair(random, error))], 4).Kappa!.Value;
        var covered = Students.ShareOf(
            1500,
            () =>
                Agreement.Of([.. Enumerable.Range(0, shared).Select(_ => Pair(random, error))], 4).Interval is { } interval
                && interval.Lo <= truth
                && truth <= interval.Hi
        );
        TestContext.Current.TestOutputHelper!.WriteLine($"true {truth:0.00}, covered {covered:0.000}");
        Assert.InRange(covered, 0.75, 0.85);
    }

    private static (int, int) Pair(Random random, double error)
    {
        var flown = Normal.Sample(random, 0, 1);
        return (Grade(flown + Normal.Sample(random, 0, error)), Grade(flown + Normal.Sample(random, 0, error)));

        static int Grade(double seen) => Math.Clamp((int)Math.Floor(seen + 2), 0, 3);
    }
}
