extern alias cockpit;

using cockpit::SchoolDrills.Cockpit.Flying;
using cockpit::SchoolDrills.Cockpit.Storage;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Tests.Cockpit;

public class DueTests
{
    private static readonly DateTimeOffset Start = new(2026, 3, 1, 9, 0, 0, TimeSpan.Zero);

    private static readonly TimedCheck Check = new("Cruise flow", "flow", ["trim"], 100, 130, 2);
    private static readonly TimedLoadTask FuelTask = new("Fuel", "How much fuel is left?", "40", 200, 4);

    [Theory]
    [InlineData(99, nameof(DueState.Ahead))]
    [InlineData(100, nameof(DueState.Now))]
    [InlineData(130, nameof(DueState.Now))]
    [InlineData(131, nameof(DueState.Late))]
    public void A_check_is_due_in_its_window_and_late_after_it(double nowS, string expected) =>
        Assert.Equal(expected, Due.Of(Check, nowS, []).ToString());

    [Fact]
    public void A_check_that_was_marked_is_done_until_the_mark_is_taken_back()
    {
        var done = Mark(EventKinds.CheckDone, 110, "Cruise flow");
        Assert.Equal(DueState.Done, Due.Of(Check, 120, [done]));
        Assert.Equal(DueState.Now, Due.Of(Check, 120, [done with { Undone = true }]));
        Assert.Equal(DueState.Now, Due.Of(Check, 120, [Mark(EventKinds.CheckDone, 110, "Another flow")]));
    }

    [Fact]
    public void A_load_task_is_to_be_given_then_answered_rightly_or_wrongly()
    {
        var given = Mark(EventKinds.TaskGiven, 201, "Fuel");
        Assert.Equal(DueState.Ahead, Due.Of(FuelTask, 199, []));
        Assert.Equal(DueState.Now, Due.Of(FuelTask, 200, []));
        Assert.Equal(DueState.Given, Due.Of(FuelTask, 205, [given]));
        Assert.Equal(DueState.Done, Due.Of(FuelTask, 220, [given, Mark(EventKinds.TaskAnswered, 215, "Fuel")]));
        Assert.Equal(DueState.Done, Due.Of(FuelTask, 220, [given, Mark(EventKinds.TaskAnsweredWrong, 215, "Fuel")]));
    }

    [Fact]
    public void A_rating_is_asked_for_at_its_time_until_given_and_not_long_after()
    {
        double[] times = [60, 300];
        Assert.Null(Due.Rating(times, 59, Start, []));
        Assert.Equal(60, Due.Rating(times, 61, Start, []));
        Assert.Null(Due.Rating(times, 70, Start, [Mark(EventKinds.LoadRating, 65, "3")]));
        Assert.Null(Due.Rating(times, 200, Start, []));
        // The answer to the first question is none to the second.
        Assert.Equal(300, Due.Rating(times, 301, Start, [Mark(EventKinds.LoadRating, 65, "3")]));
    }

    private static StoredMark Mark(string kind, double atS, string detail) =>
        new(Guid.CreateVersion7(), Guid.Empty, 1, kind, Start.AddSeconds(atS), detail);
}
