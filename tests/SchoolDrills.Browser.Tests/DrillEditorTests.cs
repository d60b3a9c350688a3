using System.Text.Json;
using Microsoft.Playwright;
using SchoolDrills.Api.Tests;
using SchoolDrills.Engine;
using SchoolDrills.Engine.Drills;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>A site of its own for the editor, so that its drills are in no other test's catalogue.</summary>
[CollectionDefinition]
public sealed class AtTheEditor : ICollectionFixture<SchoolSite>;

[Collection<AtTheEditor>]
public sealed class DrillEditorTests(SchoolSite site, Chromium chromium)
{
    private static readonly DrillTemplate Box = Catalogue.Templates.Single(t => t.Slug == "box-circles");

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_box_with_circles_is_built_from_an_empty_page_and_published_with_the_keyboard_alone()
    {
        await using var chief = await chromium.EnterAsync(site, SchoolsFixture.Chief);
        var keys = chief.Page.Keyboard;
        await chief.GoAsync("/drills/new");
        await Expect(chief.Page.GetByLabel("Title")).ToBeFocusedAsync();
        await keys.TypeAsync("Box by keys");
        await keys.PressAsync("Enter");
        await Expect(chief.Page.GetByLabel("Purpose, one or two sentences")).ToBeFocusedAsync();
        await keys.TypeAsync("To fly by the clock.");

        await keys.PressAsync("Alt+KeyN");
        foreach (
            var line in (string[])
                [
                    "straight and level: 30",
                    "climbing circle: right circle, climb 1000",
                    "clean-up: 30",
                    "corner: right 90",
                    "straight and level: 30",
                    "descending circle: left circle, descend 1000",
                    "clean-up: 30",
                    "corner: right 90",
                    "group 5 to 8 as Side",
                    "group 1 to 4 as Side",
                    "repeat 1 to 2 twice",
                ]
        )
        {
            await keys.TypeAsync(line);
            await keys.PressAsync("Enter");
        }

        foreach (var check in Box.Checks)
        {
            await AddAsync(chief, "Add check", "Start of check");
            await TypeAsync(keys, $"{check.FromS}", "Tab", "Tab", check.Name, "Tab", $"{check.WindowS}", "Tab", "Tab");
            await TypeAsync(keys, string.Join("; ", check.Items), "Tab");
        }

        foreach (var task in Box.LoadTasks)
        {
            await AddAsync(chief, "Add load task", "Time of load task");
            await TypeAsync(keys, $"{task.AtS}", "Tab", task.Name, "Tab", task.ExpectedAnswer ?? "", "Tab", "Tab", task.Script, "Tab");
        }

        await Expect(chief.Page.Locator("[data-state]")).ToContainTextAsync("Saved ");
        Assert.Equal("", string.Join(" ", await chief.Page.Locator(".refusal").AllTextContentsAsync()));
        await chief.Button("Publish").FocusAsync();
        await keys.PressAsync("Enter");
        var question = chief.Page.GetByRole(AriaRole.Dialog);
        await Expect(question).ToContainTextAsync("It is the drill's first version.");
        await question.GetByRole(AriaRole.Button, new() { Name = "Publish", Exact = true }).FocusAsync();
        await keys.PressAsync("Enter");
        await chief.Page.WaitForURLAsync("**/drills/box-by-keys");
        await Expect(chief.Heading("Box by keys")).ToBeVisibleAsync();

        var published = await (await site.AsAsync(SchoolsFixture.Chief)).TimelineAsync("box-by-keys", ct: Cancel);
        Assert.Equal(Json(DrillTimeline.Resolve(Box, Box.Entry)), Json(published));
        Assert.Empty(chief.Faults);
    }

    [Fact]
    public async Task Two_editors_at_once_lose_nothing()
    {
        await DraftAsync("two-at-once");
        await using var first = await OpenAsync("two-at-once");
        await using var second = await OpenAsync("two-at-once");

        await Field(first, "Name of segment 1").FillAsync("upwind");
        await SavedAsync(first);
        await Field(second, "Turn of segment 2, degrees").FillAsync("L 90");
        await Expect(second.Page.GetByText("Both drafts are put together.")).ToBeVisibleAsync();
        await Expect(Field(second, "Name of segment 1")).ToHaveValueAsync("upwind");
        await SavedAsync(second);

        // The same part: neither is put over the other unasked.
        await Field(first, "Turn of segment 2, degrees").FillAsync("R 180");
        await Expect(first.Page.GetByText("Nothing is saved until each part is decided.")).ToBeVisibleAsync();
        await first.Page.GetByLabel("Yours: right 180°").CheckAsync();
        await first.Button("Save with these").ClickAsync();
        await SavedAsync(first);

        var api = await site.AsAsync(SchoolsFixture.Chief);
        var draft = await api.DraftAsync("two-at-once", Cancel);
        Assert.Equal(["upwind", "turn"], draft.Template.Segments.Select(s => s.Name));
        Assert.Equal(180, draft.Template.Segments[1].TurnDeg);
        // What was not chosen can be read and taken back.
        await first.Button("Earlier drafts").ClickAsync();
        await first.Page.GetByRole(AriaRole.Button, new() { Name = "Read" }).First.ClickAsync();
        await Expect(first.Page.GetByText("Segment 2, turn: right 180° is now left 90°.")).ToBeVisibleAsync();
        await first.Button("Take it back").ClickAsync();
        await Expect(Field(first, "Turn of segment 2, degrees")).ToHaveValueAsync("L 90");
    }

    [Fact]
    public async Task A_row_is_dragged_by_the_mouse_and_put_back_by_undo_and_what_is_typed_survives_a_reload()
    {
        await DraftAsync("dragged");
        await using var chief = await OpenAsync("dragged");
        var grips = chief.Page.Locator("[data-grip]");
        var from = (await grips.Nth(1).BoundingBoxAsync())!;
        var to = (await grips.Nth(0).BoundingBoxAsync())!;
        await chief.Page.Mouse.MoveAsync(from.X + (from.Width / 2), from.Y + (from.Height / 2));
        await chief.Page.Mouse.DownAsync();
        await chief.Page.Mouse.MoveAsync(to.X + (to.Width / 2), to.Y + (to.Height / 2), new() { Steps = 5 });
        await chief.Page.Mouse.MoveAsync(to.X + (to.Width / 2), to.Y + 2, new() { Steps = 3 });
        await chief.Page.Mouse.UpAsync();
        await Expect(Field(chief, "Name of segment 1")).ToHaveValueAsync("turn");

        await chief.Page.Keyboard.PressAsync("Control+KeyZ");
        await Expect(Field(chief, "Name of segment 1")).ToHaveValueAsync("leg");
        await chief.Page.Keyboard.PressAsync("Control+KeyY");
        await Expect(Field(chief, "Name of segment 1")).ToHaveValueAsync("turn");

        // Left before the pause was over.
        await Field(chief, "Name of segment 1").FillAsync("first turn");
        await chief.Page.ReloadAsync();
        await chief.SettleAsync();
        await Expect(Field(chief, "Name of segment 1")).ToHaveValueAsync("first turn");
        Assert.Empty(await chief.FlawsAsync());
    }

    [Fact]
    public async Task A_broken_file_is_refused_with_its_places_and_a_whole_one_becomes_a_draft()
    {
        await using var chief = await chromium.EnterAsync(site, SchoolsFixture.Chief, Screen.PhoneAtNight);
        await chief.GoAsync("/drills/new");
        var file = chief.Page.GetByLabel("Import a file of JSON");
        await file.SetInputFilesAsync(File("broken.json", """{ "slug": "imported", "title": "Imported", "segments": [{ "turn": 90 }] }"""));
        await Expect(chief.Page.GetByText("segments[0].turn: there is no such member here.")).ToBeVisibleAsync();
        await Expect(chief.Page.GetByText("lacks \"purpose\".")).ToBeVisibleAsync();

        await file.SetInputFilesAsync(
            File("whole.json", JsonSerializer.Serialize(Box with { Slug = "imported" }, EngineJson.Default.DrillTemplate))
        );
        await chief.Page.WaitForURLAsync("**/drills/imported/edit");
        await Expect(chief.Page.Locator("[data-row]")).ToHaveCountAsync(11);
        Assert.Empty(await chief.FlawsAsync());
    }

    private async Task DraftAsync(string slug) =>
        await (await site.AsAsync(SchoolsFixture.Chief)).CreateDraftAsync(
            Box with
            {
                Slug = slug,
                Version = 0,
                Title = "A leg and a turn",
                Segments = [new Segment { Name = "leg", DurationS = 60 }, new Segment { Name = "turn", TurnDeg = 90 }],
                Checks = [],
                LoadTasks = [],
            },
            Cancel
        );

    private async Task<Visitor> OpenAsync(string slug)
    {
        var visitor = await chromium.EnterAsync(site, SchoolsFixture.Chief);
        await visitor.GoAsync($"/drills/{slug}/edit");
        await Expect(visitor.Page.Locator("[data-row]").First).ToBeVisibleAsync();
        return visitor;
    }

    private static ILocator Field(Visitor visitor, string label) => visitor.Page.GetByLabel(label, new() { Exact = true });

    private static Task SavedAsync(Visitor visitor) => Expect(visitor.Page.Locator("[data-state]")).ToContainTextAsync("Saved ");

    /// <summary>By keys from the line of segments, which is one key away, to the button below the calls.</summary>
    private static async Task AddAsync(Visitor visitor, string button, string first)
    {
        var count = await visitor.Page.Locator($"[aria-label^='{first} ']").CountAsync();
        await visitor.Button(button).FocusAsync();
        await visitor.Page.Keyboard.PressAsync("Enter");
        await Expect(Field(visitor, $"{first} {count + 1}")).ToBeFocusedAsync();
        await visitor.Page.Keyboard.PressAsync("Control+KeyA");
    }

    /// <summary>Keys by name, anything else as it is typed.</summary>
    private static async Task TypeAsync(IKeyboard keys, params string[] typed)
    {
        foreach (var text in typed)
        {
            if (text == "Tab")
                await keys.PressAsync("Tab");
            else
                await keys.InsertTextAsync(text);
        }
    }

    private static FilePayload File(string name, string text) =>
        new()
        {
            Name = name,
            MimeType = "application/json",
            Buffer = System.Text.Encoding.UTF8.GetBytes(text),
        };

    private static string Json(DrillTimeline timeline) => JsonSerializer.Serialize(timeline, EngineJson.Default.DrillTimeline);
}
