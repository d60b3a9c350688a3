using System.Text.RegularExpressions;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using SchoolDrills.Api.Tests;
using SchoolDrills.Contracts;
using Xunit;
using static Microsoft.Playwright.Assertions;
using static SchoolDrills.Browser.Tests.Debrief;

namespace SchoolDrills.Browser.Tests;

/// <summary>The debrief's plots by mouse and by keyboard, read and listened to.</summary>
[Collection<AtTheSchool>]
public sealed partial class DebriefPlotsTests(SchoolSite site, Chromium chromium)
{
    // A drill of sixteen segments without a pause: seventeen boundaries.
    private const string Drill = "box-circles",
        Recording = "f01.gpx";
    private const int Segments = 16;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_space_bar_plays_and_stops_and_the_clock_face_runs_with_the_cursor()
    {
        await using var visitor = await chromium.OpenDebriefAsync(
            site,
            SchoolsFixture.Instructor,
            await site.ScoredAsync(Drill, Recording)
        );
        var (plots, strips) = (visitor.Page.Locator(".plots"), Strips(visitor));
        var before = await NowAsync(strips);
        await visitor.Button("16×").ClickAsync();
        await strips.PressAsync(" ");
        await Expect(plots).ToHaveAttributeAsync("data-playing", "true");
        await Expect(visitor.Button("Pause")).ToBeVisibleAsync();
        await Expect(visitor.Page.Locator(".face [data-face=phase]")).ToHaveTextAsync(SecondSegment());
        await strips.PressAsync(" ");
        await Expect(plots).ToHaveAttributeAsync("data-playing", "false");

        Assert.InRange(await NowAsync(strips), before + 25, before + 600);
        var reading = await visitor.Page.Locator("[data-face=reading]").TextContentAsync();
        await Expect(visitor.Page.Locator(".readout")).ToContainTextAsync(reading!);
        Assert.Empty(visitor.Faults);
    }

    [Fact]
    public async Task Keys_move_the_cursor_zoom_and_choose_a_segment()
    {
        await using var visitor = await chromium.OpenDebriefAsync(
            site,
            SchoolsFixture.Instructor,
            await site.ScoredAsync(Drill, Recording)
        );
        var strips = Strips(visitor);
        var (start, whole) = (await NowAsync(strips), await SpanAsync(strips));

        await strips.PressAsync("ArrowRight");
        Assert.True(await NowAsync(strips) > start);
        await strips.PressAsync("PageDown");
        await Expect(strips).ToHaveAttributeAsync("aria-valuetext", SpokenSecondSegment());
        await strips.PressAsync("+");
        Assert.InRange(await SpanAsync(strips), whole / 2 - 2, whole / 2 + 2);
        await strips.PressAsync("0");
        Assert.Equal(whole, await SpanAsync(strips));
        var last = await strips.GetAttributeAsync("aria-valuemax");
        await strips.PressAsync("Enter");
        await Expect(visitor.Page.GetByRole(AriaRole.Toolbar, new() { Name = "Segments" }).GetByRole(AriaRole.Button).Nth(1))
            .ToHaveAttributeAsync("aria-pressed", "true");
        // The chosen segment says why it stands as it does, and fills the strips.
        await Expect(visitor.Page.Locator(".chosen-segment")).ToContainTextAsync("Altitude");
        await Expect(strips).Not.ToHaveAttributeAsync("aria-valuemax", last!);
        Assert.True(await SpanAsync(strips) < whole / 2);
    }

    [Fact]
    public async Task A_boundary_moved_by_keys_is_pending_undone_and_scored_anew_with_its_reason()
    {
        var attemptId = await site.ScoredAsync(Drill, Recording);
        await using var visitor = await chromium.OpenDebriefAsync(site, SchoolsFixture.Instructor, attemptId);
        var editor = visitor.Region("Boundaries by hand");
        await visitor.Button("Adjust boundaries").ClickAsync();
        var boundaries = visitor.Page.GetByRole(AriaRole.Group, new() { Name = "Segment boundaries" }).GetByRole(AriaRole.Slider);
        await Expect(boundaries).ToHaveCountAsync(Segments + 1);
        var second = boundaries.Nth(1);
        await second.PressAsync("ArrowRight");
        await second.PressAsync("ArrowRight");
        await Expect(second).ToHaveAttributeAsync("aria-valuetext", TwoSecondsLater());
        await Expect(editor).ToContainTextAsync("2.0 s later than the engine has it");
        await visitor.Button("Undo").ClickAsync();
        await Expect(editor).ToContainTextAsync("1.0 s later than the engine has it");

        // A stretch to leave out, from the cursor to five steps on.
        await Strips(visitor).PressAsync("PageDown");
        await Strips(visitor).PressAsync("x");
        await Strips(visitor).PressAsync("Shift+ArrowRight");
        await Strips(visitor).PressAsync("x");
        await Expect(editor).ToContainTextAsync("Left out:");
        await Expect(visitor.Button("Rescore")).ToBeDisabledAsync();
        await editor.GetByPlaceholder("Why").FillAsync("Traffic avoided.");
        await editor.GetByLabel("Reason").FillAsync("He began to roll a second later.");
        await visitor.Button("Rescore").ClickAsync();
        await Expect(visitor.Page.Locator("main")).ToContainTextAsync("The score below is the previous one");

        await site.ScoreAsync(attemptId);
        var attempt = await (await site.AsAsync(SchoolsFixture.Instructor)).AttemptAsync(attemptId, Cancel);
        Assert.Equal(1, Assert.Single(attempt.Score!.Corrections!.Boundaries!).Index);
        Assert.Equal("Traffic avoided.", Assert.Single(attempt.Score.Corrections.Excluded!).Reason);
        await visitor.GoAsync($"/attempts/{attemptId}");
        await visitor.Button("Compare with the engine").ClickAsync();
        await Expect(visitor.Region("Boundaries by hand")).ToContainTextAsync("broken lines", new() { IgnoreCase = true });
        Assert.Empty(visitor.Faults);
    }

    [Fact]
    public async Task A_student_reads_the_plots_in_words_and_cannot_move_boundaries()
    {
        var attemptId = await site.ScoredAsync(Drill, Recording);
        // The school asks how it went before it shows the score.
        await (await site.AsAsync(SchoolsFixture.Student)).AssessSelfAsync(
            attemptId,
            new PutSelfAssessment(Comment: "It felt steady."),
            Cancel
        );
        await using var visitor = await chromium.OpenDebriefAsync(site, SchoolsFixture.Student, attemptId);
        await Expect(visitor.Button("Adjust boundaries")).ToHaveCountAsync(0);
        await Expect(visitor.Page.GetByRole(AriaRole.Img, new() { NameRegex = PlanInWords() })).ToBeVisibleAsync();
        await visitor.Page.GetByText("The flight in words").ClickAsync();
        var story = visitor.Page.Locator(".in-words li");
        await Expect(story).ToHaveCountAsync(Segments);
        await Expect(story.Nth(1)).ToContainTextAsync(ToldSegment());
    }

    [Theory]
    [InlineData("desk")]
    [InlineData("phone at night")]
    public async Task The_debrief_shuts_nobody_out_while_boundaries_are_moved(string screen)
    {
        await using var visitor = await chromium.OpenDebriefAsync(
            site,
            SchoolsFixture.Instructor,
            await site.ScoredAsync(Drill, Recording),
            screen == "desk" ? Screen.Desk : Screen.PhoneAtNight
        );
        await visitor.Button("Adjust boundaries").ClickAsync();
        await Expect(visitor.Region("Boundaries by hand")).ToContainTextAsync("Nothing changed yet.");
        await visitor.Page.GetByText("The flight in words").ClickAsync();
        await FlawlessAsync();
        if (screen != "desk")
            await visitor.Page.GetByRole(AriaRole.Tab, new() { Name = "Segments" }).ClickAsync();
        await visitor.Page.GetByText("Why these verdicts").ClickAsync();
        await FlawlessAsync();

        async Task FlawlessAsync()
        {
            var axe = await visitor.Page.RunAxe();
            Assert.Empty(axe.Violations.SelectMany(v => v.Nodes.Select(n => $"{v.Id}: {n.Html}")));
            Assert.False(
                await visitor.Page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth > document.documentElement.clientWidth")
            );
        }
    }

    [Fact]
    public async Task Five_and_a_half_hours_of_flight_are_drawn_to_their_last_second()
    {
        const int fixes = 20_000;
        var assignment = await site.AssignAsync(Drill);
        await using var track = LongFlight.Of(Path.Combine(AppContext.BaseDirectory, "Recordings", Recording), fixes);
        var accepted = await (await site.AsAsync(SchoolsFixture.Student)).UploadAsync(
            assignment.Id,
            track,
            "long.gpx",
            new AttemptMeta(),
            Cancel
        );
        await site.ScoreAsync(accepted.AttemptId);

        await using var visitor = await chromium.OpenDebriefAsync(site, SchoolsFixture.Instructor, accepted.AttemptId);
        await visitor.Button("Flight").ClickAsync();
        var strips = Strips(visitor);
        Assert.InRange(await SpanAsync(strips), fixes - 2, fixes);
        await strips.PressAsync("End");
        await Expect(visitor.Page.Locator(".readout")).ToContainTextAsync("5:33:1");
        Assert.Empty(visitor.Faults);
    }

    [Fact]
    public async Task A_recording_that_is_only_tried_has_the_same_plots()
    {
        await using var visitor = await chromium.VisitAsync(site.Address);
        await visitor.SignInAsync(SchoolsFixture.EmailOf(SchoolsFixture.Student), SchoolsFixture.Password);
        await visitor.GoAsync($"/try?drill={Drill}");
        await visitor
            .Page.GetByLabel("Choose a recording")
            .SetInputFilesAsync(Path.Combine(AppContext.BaseDirectory, "Recordings", Recording));
        await visitor.Button("Score without keeping").ClickAsync();
        await Expect(visitor.Page.Locator(".plots[data-state=ready]")).ToBeVisibleAsync();
        await Expect(Strips(visitor)).ToHaveAttributeAsync("aria-valuetext", SpokenFirstSegment());
    }

    [GeneratedRegex("^2 ")]
    private static partial Regex SecondSegment();

    [GeneratedRegex("segment 1 .*Altitude [0-9,]+ ft, target [0-9,]+ ft")]
    private static partial Regex SpokenFirstSegment();

    [GeneratedRegex("segment 2 .*Altitude [0-9,]+ ft, target [0-9,]+ ft")]
    private static partial Regex SpokenSecondSegment();

    [GeneratedRegex("2.0 s later than the engine$")]
    private static partial Regex TwoSecondsLater();

    [GeneratedRegex("^Plan view: flown path of 16 of 16 segments over the path the drill asks for, wind from")]
    private static partial Regex PlanInWords();

    [GeneratedRegex(@"right climbing turn, from 0:\d\d to 2:\d\d.*(met|close)\. .*[Aa]ltitude")]
    private static partial Regex ToldSegment();
}
