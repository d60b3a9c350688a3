using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using Xunit;
using static SchoolDrills.Engine.Tests.Progress.Students;

namespace SchoolDrills.Engine.Tests.Progress;

public sealed class ParameterTrendTests
{
    private static readonly Guid First = new("00000000-0000-0000-0000-000000000001"),
        Second = new("00000000-0000-0000-0000-000000000002");

    /// <summary>By hand: 60 s at 1.0 and 180 s at 0.6 are 168 s of 240 s; sixteen samples of 15 s.</summary>
    [Fact]
    public void What_is_held_counts_by_time()
    {
        var point = Assert.Single(
            Assert
                .Single(
                    ParameterTrend.ByParameter([
                        Segment(First, 1, withinShare: 1, durationS: 60),
                        Segment(First, 1, withinShare: 0.6, durationS: 180, index: 1),
                    ])
                )
                .Points
        );
        Assert.Equal(0.7, point.WithinShare, 1e-12);
        Assert.Equal(16, point.Samples, 1e-12);
    }

    [Fact]
    public void Each_start_counts_one()
    {
        var point = Assert.Single(
            Assert
                .Single(
                    ParameterTrend.ByParameter([
                        Segment(First, 1, withinShare: 1, durationS: 60, parameter: Parameter.Timing),
                        Segment(First, 1, withinShare: 0, durationS: 180, index: 1, parameter: Parameter.Timing),
                    ])
                )
                .Points
        );
        Assert.Equal((0.5, 2), (point.WithinShare, point.Samples));
    }

    [Fact]
    public void Attempts_stand_in_the_order_in_which_they_were_flown() =>
        Assert.Equal(
            [Second, First],
            Assert.Single(ParameterTrend.ByParameter([Segment(First, 1), Segment(Second, 30)])).Points.Select(p => p.AttemptId)
        );

    [Theory]
    [InlineData("racetrack", 3, null, false)]
    [InlineData("box-circles", 4, null, false)]
    [InlineData("box-circles", 3, "c172", false)]
    [InlineData("box-circles", 3, null, true)]
    public void Unlike_attempts_are_never_joined(string drill, int level, string? aircraft, bool hasAirData)
    {
        var trends = ParameterTrend.ByParameter([
            Segment(First, 1),
            Segment(Second, 2, group: new AttemptGroup(drill, level, aircraft, hasAirData)),
        ]);
        Assert.Equal([First, Second], trends.Select(t => Assert.Single(t.Points).AttemptId));
    }

    [Fact]
    public void Kinds_of_segment_are_apart_where_asked()
    {
        List<SegmentMeasurement> measured = [Segment(First, 1), Segment(First, 1, index: 1, kind: SegmentKind.LevelTurn)];
        Assert.Equal([SegmentKind.LevelTurn, SegmentKind.ClimbTurn], ParameterTrend.ByKind(measured).Select(t => t.Kind!.Value));
        Assert.Null(Assert.Single(ParameterTrend.ByParameter(measured)).Kind);
    }

    [Fact]
    public void What_was_not_measured_is_no_point() => Assert.Empty(ParameterTrend.ByParameter([Segment(First, 1, withinShare: null)]));
}
