using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Web.InFlight;

namespace SchoolDrills.Web.Tests.InFlight;

public sealed class FlightLogListTests : PageTest
{
    private static readonly FlightLogView Log = new(
        Guid.NewGuid(),
        SampleSchool.AssignmentId,
        SampleSchool.AttemptId,
        Guid.NewGuid(),
        "Anahera Pike",
        SampleSchool.Now.AddHours(-2),
        null,
        SampleSchool.Now.AddHours(-1),
        40,
        40,
        ClockSource.Measured,
        40,
        3.2,
        [new AttemptEvent(Guid.NewGuid(), "check", SampleSchool.Now.AddHours(-2))]
    );

    [Fact]
    public void Where_nothing_was_noted_nothing_is_said() => Assert.Equal("", Shown(Roles.Instructor).Markup.Trim());

    [Fact]
    public void A_log_says_who_noted_it_how_its_clock_was_and_when_the_start_was_tapped()
    {
        var shown = Shown(Roles.Student, Log);
        Assert.Equal(
            "Noted on a tablet by Anahera Pike, 1 mark. Its clock was 40 s ahead and was corrected. "
                + "Start tapped 3 s after the drill's start in the recording.",
            shown.Find("li p").TextContent.Trim()
        );
        Assert.Empty(shown.FindAll("button"));
    }

    [Fact]
    public void An_instructor_shifts_the_marks_and_goes_back_to_what_was_measured()
    {
        var api = Api(Log).Answer($"flight-logs/{Log.Id}/shift", Log);
        var shifted = 0;
        var shown = Open<FlightLogList>(
            api,
            Roles.Instructor,
            p => p.Add(x => x.AttemptId, SampleSchool.AttemptId).Add(x => x.OnShifted, () => shifted++)
        );
        Button(shown, "Shift").Click();
        Assert.Equal("40", shown.Find("input").GetAttribute("value"));
        shown.Find("input").Change("43");
        Answer(api, Log with { ShiftS = 43, Clock = ClockSource.ByHand });
        Button(shown, "Shift the marks").Click();
        shown.WaitForAssertion(() => Assert.Equal(1, shifted));
        Assert.Equal("""{"shiftS":43}""", api.Sent[$"PUT flight-logs/{Log.Id}/shift"]);
        Assert.Contains(
            "Its clock is taken to have been 43 s ahead, set by hand; measured: 40 s ahead.",
            shown.Markup,
            StringComparison.Ordinal
        );

        Answer(api, Log);
        Button(shown, "Back to measured").Click();
        shown.WaitForAssertion(() => Assert.Equal(2, shifted));
        Assert.Equal("{}", api.Sent[$"PUT flight-logs/{Log.Id}/shift"]);
        Assert.DoesNotContain("Back to measured", shown.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void Notes_that_wait_say_so_with_the_day_of_the_flight()
    {
        var shown = Shown(Roles.Student, Log with { AttemptId = null, StartDiffersS = null });
        Assert.StartsWith("Flight notes of ", shown.Find("li strong").TextContent, StringComparison.Ordinal);
        Assert.EndsWith(", wait for the recording.", shown.Find("li strong").TextContent.Trim(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(ClockSource.Measured, 0, "Its clock was right.")]
    [InlineData(ClockSource.OnArrival, 0.2, "Its clock was right when the notes arrived.")]
    [InlineData(ClockSource.OnArrival, -4, "Its clock was 4 s behind when the notes arrived and was corrected.")]
    [InlineData(ClockSource.ByHand, 0, "Its clock is taken to have been right, set by hand; measured: 40 s ahead.")]
    public void A_clock_is_told_by_what_is_known_of_it(ClockSource source, double aheadS, string sentence) =>
        Assert.Equal(sentence, FlightLogWords.Clock(Log with { Clock = source, ShiftS = aheadS }));

    [Theory]
    [InlineData(null, null)]
    [InlineData(0.4, "Start tapped when the drill began in the recording.")]
    [InlineData(-12.0, "Start tapped 12 s before the drill's start in the recording.")]
    public void The_start_is_told_where_both_are_known(double? differsS, string? sentence) =>
        Assert.Equal(sentence, FlightLogWords.Start(Log with { StartDiffersS = differsS }));

    private static SchoolApi Api(params FlightLogView[] logs) => Answer(new SchoolApi(), logs);

    private static SchoolApi Answer(SchoolApi api, params FlightLogView[] logs) =>
        api.Answer<IReadOnlyList<FlightLogView>>($"attempts/{SampleSchool.AttemptId}/flight-logs", logs);

    private IRenderedComponent<FlightLogList> Shown(string role, params FlightLogView[] logs) =>
        Open<FlightLogList>(Api(logs), role, p => p.Add(x => x.AttemptId, SampleSchool.AttemptId));
}
