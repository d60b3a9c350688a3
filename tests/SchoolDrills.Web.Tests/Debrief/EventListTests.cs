using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Charts;
using SchoolDrills.Web.Debrief;

namespace SchoolDrills.Web.Tests.Debrief;

/// <summary>What was noted on board, in time, as marks and as a list whose rows move the cursor.</summary>
public sealed class EventListTests : BunitContext
{
    private static readonly DateTimeOffset Zero = PlotDescription.ClockZero(SampleSchool.Report)!.Value;

    [Fact]
    public void Tasks_and_checks_are_told_with_how_they_ended_and_the_rest_as_noted()
    {
        var entries = EventTimeline.Of(
            Report(
                [
                    Task("Reciprocal", 60, 66, LoadOutcome.InTime),
                    Task("Fuel", 100, 135, LoadOutcome.Late),
                    Task("Time to go", 200, 210, LoadOutcome.Wrong),
                    Task("Frequency", 220, null, LoadOutcome.Missed),
                ],
                [
                    Check("Entry flow", 70, LoadOutcome.InTime),
                    Check("Exit flow", 190, LoadOutcome.Late),
                    Check("Cruise", null, LoadOutcome.Missed),
                ]
            ),
            [
                Noted("clock-start", 0),
                // Told by the report: a note of the same kind at the same time is not told again.
                Noted("load-task", 60.00001, "Reciprocal"),
                Noted("answered", 66, null),
                Noted("check", 70, "Entry flow"),
                Noted("load-rating", 150, "4"),
                Noted("relief", 160, "slowed down"),
                Noted("mark", 170, "here"),
                Noted("note", 175, "Good scan."),
                Noted("load-task", -100, "Warm-up"),
            ]
        );
        Assert.Equal(
            [
                (EventMark.Task, "Task: Warm-up", "outside the drill"),
                (EventMark.Clock, "Clock started", ""),
                (EventMark.Task, "Task: Reciprocal", ""),
                (EventMark.Answered, "Answer: Reciprocal", "right, after 6 s"),
                (EventMark.Check, "Entry flow", "done in time"),
                (EventMark.Task, "Task: Fuel", ""),
                (EventMark.AnsweredLate, "Answer: Fuel", "right but late, after 35 s"),
                (EventMark.Rating, "Load rating", "4 of 5"),
                (EventMark.Relief, "Relief", "slowed down"),
                (EventMark.Note, "Mark", "here"),
                (EventMark.Note, "Good scan.", ""),
                (EventMark.CheckMissed, "Cruise", "not done in its window"),
                (EventMark.CheckLate, "Exit flow", "done 10 s late"),
                (EventMark.Task, "Task: Time to go", ""),
                (EventMark.AnsweredWrong, "Answer: Time to go", "wrong, after 10 s"),
                (EventMark.TaskMissed, "Task: Frequency", "not answered"),
            ],
            entries.Select(e => (e.Mark, e.What, e.Outcome))
        );
    }

    [Fact]
    public void Pauses_and_the_stop_are_those_of_the_report()
    {
        var report = SampleSchool.Report with
        {
            Paused = [new(Zero.AddSeconds(30), Zero.AddSeconds(70), PauseReason.Traffic, EndNoted: false)],
            StoppedUtc = Zero.AddSeconds(120),
        };
        var entries = EventTimeline.Of(report, [Noted("traffic", 30), Noted("traffic-clear", 400), Noted("abort", 120)]);
        Assert.Equal(
            [
                (EventMark.Traffic, "not judged for 40 s; its end was not noted"),
                (EventMark.Stopped, "nothing after it is judged"),
                (EventMark.Note, ""),
            ],
            entries.Select(e => (e.Mark, e.Outcome))
        );
        Assert.Equal(Zero.AddSeconds(70), entries[0].ToUtc);
    }

    [Fact]
    public void A_row_moves_the_cursor_and_long_lists_are_folded()
    {
        DateTimeOffset? shown = null;
        var entries = EventTimeline.Of(SampleSchool.Report, [.. Enumerable.Range(0, 15).Select(i => Noted("load-rating", 10 * i, "3"))]);
        var list = Render<EventList>(p =>
            p.Add(l => l.Report, SampleSchool.Report).Add(l => l.Entries, entries).Add(l => l.ShowAt, at => shown = at)
        );
        Assert.Equal(12, list.FindAll("li").Count);
        list.FindAll("button.jump")[2].Click();
        Assert.Equal(Zero.AddSeconds(20), shown);
        list.Find("button.btn").Click();
        Assert.Equal(15, list.FindAll("li").Count);
        Assert.Equal("Show only the first 12", list.Find("button.btn").TextContent.Trim());
    }

    [Fact]
    public void Without_notes_there_is_no_list() =>
        Assert.Empty(Render<EventList>(p => p.Add(l => l.Report, SampleSchool.Report).Add(l => l.Entries, [])).Markup.Trim());

    [Fact]
    public void No_two_marks_have_one_shape()
    {
        var shapes = Enum.GetValues<EventMark>().Select(m => Render<EventGlyph>(p => p.Add(g => g.Mark, m)).Find("svg").InnerHtml).ToList();
        Assert.Equal(shapes.Count, shapes.Distinct().Count());
    }

    private static ScoreReport Report(IReadOnlyList<LoadTaskResult> tasks, IReadOnlyList<CheckResult> checks) =>
        SampleSchool.Report with
        {
            Workload = new(tasks, checks, [], [], [], 0.5, 3),
        };

    private static LoadTaskResult Task(string name, double givenS, double? answeredS, LoadOutcome outcome) =>
        new(name, 0, Zero.AddSeconds(givenS), answeredS is { } s ? Zero.AddSeconds(s) : null, answeredS - givenS, outcome);

    /// <summary>A window from 50 to 180 s.</summary>
    private static CheckResult Check(string name, double? doneS, LoadOutcome outcome) =>
        new(name, 0, Zero.AddSeconds(50), Zero.AddSeconds(180), doneS is { } s ? Zero.AddSeconds(s) : null, outcome);

    private static AttemptEvent Noted(string kind, double atS, string? detail = null) =>
        new(Guid.CreateVersion7(), kind, Zero.AddSeconds(atS), detail);
}
