using SchoolDrills.Accuracy;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tests.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>Notes on board by which a time is not judged, or the drill ends.</summary>
public sealed class PauseTests
{
    private static readonly ScoreReport Own = Scored.Report("f13.csv", "timed-turns");

    [Theory]
    [InlineData("traffic", "traffic-clear", PauseReason.Traffic)]
    [InlineData("took-control", "handed-back", PauseReason.InstructorControl)]
    public void A_pause_counts_neither_in_nor_out_and_later_starts_are_timed_from_the_one_that_resumes(
        string from,
        string to,
        PauseReason why
    )
    {
        var (start, end) = (Own.Segments[2].StartUtc!.Value.AddSeconds(8), Own.Segments[2].EndUtc!.Value.AddSeconds(-8));
        var paused = Noted((from, start, null), (to, end, null));

        Assert.Equal([new PausedTime(start, end, why, EndNoted: true)], paused.Paused);
        Assert.Null(paused.StoppedUtc);
        Assert.Equal(Verdict.NotMeasured, Timing(paused, 3).Verdict);
        Assert.Contains("paused", Timing(paused, 3).Why, StringComparison.Ordinal);
        Assert.Null(paused.Segments[3].StartErrorS);
        // The student did fly on in this recording: by the clock of the turn that resumed it, the next turn is begun as late as before,
        // less what that turn was late itself.
        Assert.Equal(
            Own.Segments[5].StartErrorS!.Value - Own.Segments[3].StartErrorS!.Value,
            paused.Segments[5].StartErrorS!.Value - Own.Segments[1].StartErrorS!.Value,
            0.25
        );
        Assert.Equal(Own.Segments[1].StartErrorS!.Value, paused.Segments[1].StartErrorS!.Value, 0.5);
        Assert.Equal(Own.Segments[4].Deviations.Select(d => d.WithinShare), paused.Segments[4].Deviations.Select(d => d.WithinShare));
        Assert.Equal(Own.Runs.Select(r => r.Confidence), paused.Runs.Select(r => r.Confidence));
    }

    [Fact]
    public void In_a_turn_broken_off_the_heading_is_not_measured_any_more_and_what_is_held_is()
    {
        var turn = Own.Segments[5];
        var at = turn.StartUtc!.Value.AddSeconds(10);
        var drill = AttemptScorer
            .ScoreWithState(
                Recording.GoodFile("f13.csv"),
                Scored.Drill("timed-turns"),
                Scored.Standard,
                new ScoringOptions { Events = [new("traffic", at), new("traffic-clear", at.AddSeconds(30))] },
                cancellation: TestContext.Current.CancellationToken
            )
            .Drill!;

        var segment = drill.Segments[5]!;
        Assert.True(Knows(Parameter.Heading, 5));
        Assert.All([Parameter.Heading, Parameter.TurnRate, Parameter.Altitude], p => Assert.False(Knows(p, 25)));
        Assert.False(Knows(Parameter.Heading, 60));
        Assert.All([Parameter.TurnRate, Parameter.Altitude, Parameter.Airspeed], p => Assert.True(Knows(p, 60)));

        bool Knows(Parameter parameter, int afterS) => double.IsFinite(segment.Deviation(parameter, segment.First + afterS));
    }

    [Fact]
    public void A_pause_whose_end_nobody_noted_lasts_three_minutes_and_one_noted_twenty_minutes_later_is_another()
    {
        var at = Own.StartUtc!.Value.AddSeconds(65);
        var forgotten = Assert.Single(Noted(("traffic", at, null)).Paused);
        Assert.Equal((at.AddSeconds(180), false), (forgotten.ToUtc, forgotten.EndNoted));
        Assert.Equal(forgotten, Assert.Single(Noted(("traffic", at, null), ("traffic-clear", at.AddMinutes(20), null)).Paused));
    }

    [Fact]
    public void A_pause_and_what_the_instructor_left_out_by_hand_are_both_left_out()
    {
        var byHand = new ManualCorrections(
            Excluded: [new ExcludedStretch(Own.Segments[4].StartUtc!.Value, Own.Segments[4].EndUtc!.Value, "Radio failure.")]
        );
        var (from, to) = (Own.Segments[2].StartUtc!.Value.AddSeconds(-1), Own.Segments[2].EndUtc!.Value.AddSeconds(1));
        var both = Scored.Report(
            "f13.csv",
            "timed-turns",
            new ScoringOptions { Corrections = byHand, Events = [new("traffic", from), new("traffic-clear", to)] }
        );

        Assert.Equal(Verdict.NotMeasured, both.Segments[2].Verdict);
        Assert.Equal(Verdict.NotMeasured, both.Segments[4].Verdict);
        Assert.NotEqual(Verdict.NotMeasured, both.Segments[6].Verdict);
        Assert.Single(both.Paused);
        Assert.Same(byHand, both.Corrections);
    }

    [Fact]
    public void After_the_instructor_stopped_the_drill_nothing_is_judged_and_nobody_gave_up()
    {
        var at = Own.Segments[3].StartUtc!.Value.AddSeconds(20);
        var stopped = Noted(("abort", at, null));

        Assert.Equal(at, stopped.StoppedUtc!.Value, TimeSpan.FromMilliseconds(1));
        Assert.Equal(stopped.StoppedUtc, stopped.EndUtc);
        Assert.Equal((SegmentStatus.Partial, stopped.StoppedUtc), (stopped.Segments[3].Status, stopped.Segments[3].EndUtc));
        Assert.All(stopped.Segments.Skip(4), s => Assert.Equal((SegmentStatus.Skipped, Verdict.NotMeasured), (s.Status, s.Verdict)));
        Assert.DoesNotContain(stopped.Findings, f => f.Kind is FindingKind.Aborted or FindingKind.SkippedSegment);
        Assert.Equal(Verdict.NotMeasured, stopped.Overall.Verdict);
        // 1:00 straight, right 90 in 0:30, 0:30 straight, 20 s into the turn: 2:20 on the clock, give or take what was late.
        Assert.Matches(
            "^Stopped by the instructor at 2:(1|2)\\d, so the drill as a whole is not judged; until then: ",
            stopped.Overall.Why
        );
        Assert.Contains(stopped.NotMeasured, w => w.Contains(": stopped by the instructor at 2:", StringComparison.Ordinal));
        Assert.Equal(Own.Segments[1].Verdict, stopped.Segments[1].Verdict);
    }

    /// <summary>Truth of f08: given up in segment 8, 435 s after the start.</summary>
    [Fact]
    public void A_drill_that_ends_early_was_given_up_unless_the_instructor_noted_that_he_stopped_it()
    {
        var track = TruthFlight.In(TruthFlight.OwnFolder).Single(f => f.Id.StartsWith("f08", StringComparison.Ordinal)).Read("air.csv");
        var givenUp = Report();
        Assert.Contains(givenUp.Findings, f => f.Kind == FindingKind.Aborted);

        var noted = new FlightEvent("abort", givenUp.EndUtc!.Value.AddSeconds(15));
        var stopped = Report(noted);
        Assert.Equal(noted.AtUtc, stopped.StoppedUtc!.Value, TimeSpan.FromMilliseconds(1));
        Assert.DoesNotContain(stopped.Findings, f => f.Kind == FindingKind.Aborted);
        Assert.Equal(Verdict.NotMeasured, stopped.Segments[^1].Verdict);
        Assert.False(stopped.Runs.Single(r => r.Scored).GivenUp);

        // Long after, or before the drill, it says nothing of it.
        foreach (var at in new[] { givenUp.EndUtc.Value.AddMinutes(5), givenUp.StartUtc!.Value.AddMinutes(-1) })
        {
            var other = Report(new FlightEvent("abort", at));
            Assert.Null(other.StoppedUtc);
            Assert.Equal(givenUp.Overall, other.Overall);
        }

        ScoreReport Report(params FlightEvent[] events) => Scored.Report(track, "box-circles", new ScoringOptions { Events = events });
    }

    [Fact]
    public void Ratings_are_those_from_one_to_five_noted_during_the_drill_and_soon_after()
    {
        var start = Own.StartUtc!.Value;
        var rated = Noted(
            ("load-rating", start.AddSeconds(-60), "2"),
            ("load-rating", start.AddSeconds(100), "3"),
            ("load-rating", start.AddSeconds(120), "9"),
            ("load-rating", start.AddSeconds(130), "high"),
            ("load-rating", Own.EndUtc!.Value.AddSeconds(60), " 4 "),
            ("load-rating", Own.EndUtc.Value.AddMinutes(20), "5")
        );
        Assert.Equal([3, 4], rated.Workload!.Ratings.Select(r => r.Rating));
    }

    private static DeviationReport Timing(ScoreReport report, int k) =>
        report.Segments[k].Deviations.Single(d => d.Parameter == Parameter.Timing);

    private static ScoreReport Noted(params (string Kind, DateTimeOffset AtUtc, string? Detail)[] events) =>
        Scored.Report(
            "f13.csv",
            "timed-turns",
            new ScoringOptions { Events = [.. events.Select(e => new FlightEvent(e.Kind, e.AtUtc, e.Detail))] }
        );
}
