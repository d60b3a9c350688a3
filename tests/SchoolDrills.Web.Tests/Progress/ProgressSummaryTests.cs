using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Web.Debrief;
using SchoolDrills.Web.Progress;

namespace SchoolDrills.Web.Tests.Progress;

public sealed class ProgressSummaryTests
{
    private static readonly NextDrillSuggestion Next = new("saw-tooth", "Because.", "Saw-tooth", 0.8);

    [Theory]
    [InlineData(1, "1 attempt")]
    [InlineData(2, "2 attempts")]
    public void Under_three_attempts_it_says_too_little_data_and_to_fly_it_again(int attempts, string flown) =>
        Assert.Equal(
            $"Too little data to say where you stand: {flown} of Two turns, and it takes 3; next, fly it again.",
            Sentence([], [], SampleProgress.Of(Parameter.Altitude, [.. Enumerable.Repeat(0.95, attempts)]))
        );

    [Fact]
    public void Three_attempts_say_where_the_newest_interval_lies_to_the_standard() =>
        Assert.Equal(
            "The newest of your 3 attempts of Two turns is at the standard of 90% in heading, below it in altitude and "
                + "too close to tell in the "
                + "rest; nothing clearly keeps failing, though vertical speed in climbing turns was missed most; next, fly Saw-tooth.",
            Sentence(
                [Weak(recurring: false)],
                [Next],
                SampleProgress.Of(Parameter.Altitude, [0.99, 0.99, 0.7]),
                SampleProgress.Of(Parameter.Heading, [0.2, 0.2, 0.95]),
                SampleProgress.Of(Parameter.Airspeed, [0.9, 0.9, 0.91])
            )
        );

    [Fact]
    public void A_trend_is_claimed_from_five_attempts_on_and_only_outside_its_interval()
    {
        double[] five = [0.5, 0.55, 0.6, 0.65, 0.7];
        Assert.Contains("altitude is getting better", Sentence([], [], Rising(five, 0.01)), StringComparison.Ordinal);
        Assert.DoesNotContain("getting", Sentence([], [], Rising(five, -0.01)), StringComparison.Ordinal);
        Assert.DoesNotContain("getting", Sentence([], [], Rising(five[..4], 0.01)), StringComparison.Ordinal);

        static ParameterProgress Rising(double[] shares, double lo) =>
            SampleProgress.Of(Parameter.Altitude, shares, trend: 0.05, interval: new Interval(lo, 0.09));
    }

    [Fact]
    public void What_keeps_failing_is_named_and_an_instructor_reads_the_students_name() =>
        Assert.Equal(
            "The newest of Rewi Marsh’s 3 attempts of Two turns is below the standard of 90% in everything measured; "
                + "vertical speed in climbing "
                + "turns keeps failing; next, fly Saw-tooth.",
            ProgressSummary.Sentence(
                LikeAttempts.Of(SampleProgress.With(SampleProgress.Of(Parameter.Altitude, [0.5, 0.5, 0.5]))),
                "Two turns",
                [Weak(recurring: true)],
                [Next],
                "Rewi Marsh"
            )
        );

    [Fact]
    public void Groups_are_not_mixed_and_the_newest_comes_first()
    {
        var older = SampleProgress.Box with { HasAirData = false };
        var groups = LikeAttempts.Of(
            SampleProgress.With(
                SampleProgress.Of(Parameter.Altitude, [0.5, 0.6, 0.7], group: older, daysAgo: 30),
                SampleProgress.Of(Parameter.Altitude, [0.8, 0.9])
            )
        );
        Assert.Equal([SampleProgress.Box, older], groups.Select(g => g.Group));
        Assert.Equal([2, 3], groups.Select(g => g.Attempts));
    }

    [Theory]
    [InlineData(0.1, 0.02, 0.2, "You rate your own flying better than it was measured: +10% over 4 attempts, between +2% and +20%.")]
    [InlineData(-0.1, -0.2, -0.02, "You rate your own flying worse than it was measured: −10% over 4 attempts, between −20% and −2%.")]
    [InlineData(0.05, -0.1, 0.2, "You rate your own flying about as it was measured: +5% over 4 attempts, between −10% and +20%.")]
    public void An_own_rating_differs_only_where_its_interval_leaves_zero_out(double bias, double lo, double hi, string sentence) =>
        Assert.Equal(sentence, CalibrationDescription.Of(Rated(4, bias, new Interval(lo, hi))));

    [Fact]
    public void Too_few_own_ratings_are_too_little_data() =>
        Assert.Equal("Too little data: 2 of 3 attempts with an own rating.", CalibrationDescription.Of(Rated(2, null, null)));

    /// <summary>The sample's second segment starts 12.2 s late; its altitude has no moment, so that its start stands for it.</summary>
    [Fact]
    public void The_worst_moment_is_the_reports_and_without_one_the_segments_start()
    {
        var at = SampleSchool.Now.AddHours(-4);
        var second = SampleSchool.Report.Segments[1];
        var report = SampleSchool.Report with { Segments = [second with { Deviations = [second.Deviations[0] with { WorstAtUtc = at }] }] };
        Assert.Equal(at, WorstMoment.Of(report, 1, "altitude"));
        Assert.Equal(second.StartUtc, WorstMoment.Of(report, 1, "timing"));
        Assert.Null(WorstMoment.Of(report, 7, "altitude"));
    }

    private static string Sentence(
        IReadOnlyList<WeakSegmentSummary> weak,
        IReadOnlyList<NextDrillSuggestion> next,
        params ParameterProgress[] parameters
    ) => ProgressSummary.Sentence(LikeAttempts.Of(SampleProgress.With(parameters)), "Two turns", weak, next);

    private static WeakSegmentSummary Weak(bool recurring) =>
        SampleSchool.Weak[0] with
        {
            Parameter = Parameter.VerticalSpeed,
            Recurring = recurring,
        };

    private static Calibration Rated(int attempts, double? bias, Interval? interval) =>
        new(SampleProgress.Box, attempts, bias, interval, Trend.Of([]), bias is null ? "too little data" : null);
}
