using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Charts;
using SchoolDrills.Web.Debrief;

namespace SchoolDrills.Web.Tests.Debrief;

/// <summary>What is said of load tasks, checks and saturation.</summary>
public sealed class WorkloadWordsTests
{
    private static readonly DateTimeOffset At = new(2026, 3, 2, 21, 4, 0, TimeSpan.Zero);

    [Fact]
    public void A_change_is_told_only_where_its_interval_leaves_zero_out()
    {
        Assert.Equal("60 ft off under load, 25 ft in quiet flying: 20 ft to 50 ft worse.", WorkloadWords.Of(Change(25, 60, 20, 50)));
        Assert.Equal("20 ft off under load, 45 ft in quiet flying: 10 ft to 40 ft better.", WorkloadWords.Of(Change(45, 20, -40, -10)));
        Assert.Equal("30 ft off under load, 25 ft in quiet flying: no clear change.", WorkloadWords.Of(Change(25, 30, -8, 18)));
        Assert.Equal(
            "30 ft off under load, 25 ft in quiet flying. Too little data.",
            WorkloadWords.Of(Change(25, 30, null, null) with { Reason = "Too little data." })
        );
    }

    [Fact]
    public void The_load_is_summed_up_with_what_was_not_judged()
    {
        LoadTaskResult task = new("Reciprocal", 1, At, At.AddSeconds(6), 6, LoadOutcome.InTime);
        CheckResult check = new("Clean-up flow", 2, At, At.AddSeconds(30), At.AddSeconds(50), LoadOutcome.Late);
        var load = new WorkloadReport(
            [task, task with { Outcome = LoadOutcome.Wrong }],
            [check, check with { DoneUtc = null, Outcome = LoadOutcome.Missed }],
            [],
            [],
            [],
            0.5,
            3
        );
        const string Summary =
            "Load level 3 of 5. 2 load tasks were given, 1 answered late, wrong or not at all; of 2 checks 1 missed and 1 late.";
        var report = SampleSchool.Report with { Workload = load };
        Assert.Equal(Summary, WorkloadWords.Lead(report));
        var start = report.StartUtc!.Value;
        Assert.Equal(
            Summary
                + " Not judged: 40 s avoiding traffic and 12 s under the instructor's control. The instructor stopped the drill at 1:30.",
            WorkloadWords.Lead(
                report with
                {
                    Paused =
                    [
                        new(start, start.AddSeconds(15), PauseReason.Traffic, true),
                        new(start.AddSeconds(20), start.AddSeconds(32), PauseReason.InstructorControl, true),
                        new(start.AddSeconds(40), start.AddSeconds(65), PauseReason.Traffic, true),
                    ],
                    StoppedUtc = PlotDescription.ClockZero(report)!.Value.AddSeconds(90),
                }
            )
        );
    }

    [Fact]
    public void Saturation_says_what_came_before_and_whether_relief_helped()
    {
        EpisodeDetail episode = new(At, Parameter.Altitude, At.AddSeconds(-4), 40, "Fuel sum", At.AddSeconds(20), "slowed down", true);
        Assert.Equal("Overloaded after Fuel sum for 40 s; altitude went first. Relief (slowed down) helped.", WorkloadWords.Of(episode));
        Assert.Equal(
            "Overloaded for 40 s. No relief was noted.",
            WorkloadWords.Of(new EpisodeDetail(At, null, null, 40, null, null, null, null))
        );
    }

    private static LoadChange Change(double quiet, double loaded, double? lo, double? hi) =>
        new(SegmentKind.LevelStraight, Parameter.Altitude, "ft", quiet, loaded, lo, hi, null);
}
