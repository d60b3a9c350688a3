using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Web.Charts;

namespace SchoolDrills.Web.Tests.Charts;

public sealed class TrendChartTests : BunitContext
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void Few_attempts_stand_apart_each_with_its_interval(int count)
    {
        var chart = Chart(count, 0.05);

        Assert.Equal(count, chart.FindAll(".interval").Count);
        Assert.Empty(chart.FindAll(".line, .band"));
    }

    [Fact]
    public void Five_attempts_with_a_slope_have_a_line_and_the_band_of_their_intervals()
    {
        var chart = Chart(5, 0.05);

        Assert.Single(chart.FindAll(".line"));
        Assert.Single(chart.FindAll(".band"));
    }

    [Fact]
    public void The_numbers_stand_in_a_table_for_those_who_do_not_see_the_chart()
    {
        var row = Chart(3, null).FindAll("tbody tr")[2];

        Assert.Equal(["3 May 2026", "70%", "60% to 80%"], row.Children.Select(c => c.TextContent));
    }

    [Fact]
    public void Points_above_the_standard_are_filled_and_those_below_are_open()
    {
        var chart = Chart(6, null);

        Assert.Equal(["below", "below", "below", "below", "in", "in"], chart.FindAll("circle").Select(c => c.ClassName));
    }

    [Fact]
    public void Shares_that_all_lie_in_the_upper_half_are_drawn_over_the_upper_half()
    {
        Assert.Contains(Chart(3, null).FindAll("text"), t => t.TextContent == "0%");
        var high = Chart(3, null, from: 0.6).FindAll("text").Select(t => t.TextContent).ToList();
        Assert.Contains("50%", high);
        Assert.DoesNotContain("0%", high);
    }

    [Fact]
    public void No_attempt_is_told_in_words() => Assert.Equal("No attempt measured yet.", Chart(0, null).Find("p").TextContent);

    private IRenderedComponent<TrendChart> Chart(int count, double? slope, double from = 0.5) =>
        Render<TrendChart>(p =>
            p.Add(
                c => c.Progress,
                new ParameterProgress(
                    Parameter.Altitude,
                    "ft",
                    [
                        .. Enumerable
                            .Range(0, count)
                            .Select(i => new ProgressPoint(
                                Guid.Empty,
                                "box",
                                new DateTimeOffset(2026, 5, 1 + i, 0, 0, 0, TimeSpan.Zero),
                                from + (i * 0.1),
                                from - 0.1 + (i * 0.1),
                                Math.Min(1, from + 0.1 + (i * 0.1))
                            )),
                    ],
                    0.9,
                    slope,
                    null
                )
                {
                    Group = new AttemptGroup("box", 2, null, HasAirData: false),
                    TrendInterval = slope is { } s ? new Interval(s / 2, s * 2) : null,
                }
            )
        );
}
