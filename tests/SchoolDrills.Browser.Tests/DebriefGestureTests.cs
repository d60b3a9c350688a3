using Microsoft.Playwright;
using SchoolDrills.Api.Tests;
using Xunit;
using static Microsoft.Playwright.Assertions;
using static SchoolDrills.Browser.Tests.Debrief;

namespace SchoolDrills.Browser.Tests;

/// <summary>Hands on the debrief's strips: a mouse that drags, two fingers that spread, and who wants things to keep still.</summary>
[Collection<AtTheSchool>]
public sealed class DebriefGestureTests(SchoolSite site, Chromium chromium)
{
    private const string Drill = "box-circles",
        Recording = "f01.gpx";

    [Fact]
    public async Task A_boundary_goes_where_the_mouse_drags_it_and_one_undo_takes_it_back()
    {
        await using var instructor = await OpenAsync();
        await instructor.Button("Adjust boundaries").ClickAsync();
        var second = instructor.Page.GetByRole(AriaRole.Group, new() { Name = "Segment boundaries" }).GetByRole(AriaRole.Slider).Nth(1);
        var before = await NowAsync(second);
        await second.ScrollIntoViewIfNeededAsync();
        var box = (await second.BoundingBoxAsync())!;
        var mouse = instructor.Page.Mouse;
        var (x, y) = (box.X + (box.Width / 2), box.Y + (box.Height / 2));
        await mouse.MoveAsync(x, y);
        await mouse.DownAsync();
        await mouse.MoveAsync(x + 10, y, new() { Steps = 5 });
        await mouse.MoveAsync(x + 20, y, new() { Steps = 5 });
        await mouse.UpAsync();

        // Fourteen minutes over about five hundred points: twenty of them are some thirty-three seconds.
        Assert.InRange(await NowAsync(second), before + 20, before + 45);
        var editor = instructor.Region("Boundaries by hand");
        await Expect(editor).ToContainTextAsync("later than the engine has it");
        await instructor.Button("Undo").ClickAsync();
        await Expect(editor).ToContainTextAsync("Nothing changed yet.");
        Assert.Equal(before, await NowAsync(second));
        Assert.Empty(instructor.Faults);
    }

    [Fact]
    public async Task A_drag_across_the_strips_shows_that_stretch_and_a_double_click_the_drill()
    {
        await using var instructor = await OpenAsync();
        var strips = Strips(instructor);
        var whole = await SpanAsync(strips);
        await strips.ScrollIntoViewIfNeededAsync();
        var box = (await strips.BoundingBoxAsync())!;
        var mouse = instructor.Page.Mouse;
        await mouse.MoveAsync(box.X + (box.Width * 0.4f), box.Y + 120);
        await mouse.DownAsync();
        await mouse.MoveAsync(box.X + (box.Width * 0.6f), box.Y + 120, new() { Steps = 8 });
        await mouse.UpAsync();
        // A fifth of the width, of which the axis at the left takes its share.
        Assert.InRange(await SpanAsync(strips), whole * 0.18, whole * 0.25);
        await mouse.DblClickAsync(box.X + (box.Width * 0.5f), box.Y + 120);
        Assert.Equal(whole, await SpanAsync(strips));
    }

    [Fact]
    public async Task Two_fingers_spread_the_strips_on_a_phone()
    {
        await using var student = await OpenAsync(Screen.PhoneAtNight);
        var strips = Strips(student);
        var whole = await SpanAsync(strips);
        await strips.ScrollIntoViewIfNeededAsync();
        var box = (await strips.BoundingBoxAsync())!;
        var fingers = await student.Page.Context.NewCDPSessionAsync(student.Page);
        await TouchAsync("touchStart", 0.45, 0.55);
        for (var spread = 0.05; spread <= 0.21; spread += 0.02)
            await TouchAsync("touchMove", 0.5 - spread, 0.5 + spread);
        await TouchAsync("touchEnd");
        Assert.InRange(await SpanAsync(strips), whole * 0.15, whole * 0.5);

        Task TouchAsync(string type, params double[] at) =>
            fingers.SendAsync(
                "Input.dispatchTouchEvent",
                new Dictionary<string, object>
                {
                    ["type"] = type,
                    ["touchPoints"] = at.Select(
                            (share, id) =>
                                new Dictionary<string, object>
                                {
                                    ["x"] = box.X + (box.Width * share),
                                    ["y"] = box.Y + 120,
                                    ["id"] = id,
                                }
                        )
                        .ToArray(),
                }
            );
    }

    [Fact]
    public async Task Who_asked_for_less_motion_sees_the_flight_in_steps()
    {
        await using var instructor = await OpenAsync();
        await instructor.Page.EmulateMediaAsync(new() { ReducedMotion = ReducedMotion.Reduce });
        await instructor.Page.ReloadAsync();
        await instructor.SettleAsync();
        var strips = Strips(instructor);
        await instructor.Button("16×").ClickAsync();
        // Every reading of the clock face, in seconds.
        await instructor
            .Page.Locator("[data-face=reading]")
            .EvaluateAsync(
                """
                face => {
                  window.shown = [];
                  const seconds = () => face.textContent.split(':').reduce((sum, part) => 60 * sum + Number(part), 0);
                  new MutationObserver(() => window.shown.push(seconds()))
                    .observe(face, { childList: true, characterData: true, subtree: true });
                }
                """
            );
        await strips.PressAsync(" ");
        await instructor.Page.WaitForFunctionAsync("() => window.shown.length >= 4");
        await strips.PressAsync(" ");
        var shown = (await instructor.Page.EvaluateAsync<double[]>("() => window.shown")).ToList();
        Assert.All(shown.Zip(shown.Skip(1)), step => Assert.True(step.Second - step.First >= 15, string.Join(" ", shown)));
    }

    private async Task<Visitor> OpenAsync(Screen? screen = null) =>
        await chromium.OpenDebriefAsync(site, SchoolsFixture.Instructor, await site.ScoredAsync(Drill, Recording), screen);
}
