using Microsoft.Playwright;
using SchoolDrills.Api.Tests;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

[Collection<AtGrading>]
public sealed class UploadTests(SchoolSite site, Chromium chromium)
{
    [Fact]
    public async Task Several_recordings_at_once_are_each_matched_to_the_work_they_are_of()
    {
        var turns = await site.AssignAsync("timed-turns", SchoolsFixture.OtherStudent);
        await site.AssignAsync("racetrack", SchoolsFixture.OtherStudent);
        await using var student = await chromium.EnterAsync(site, SchoolsFixture.OtherStudent);
        await student.GoAsync("/upload");
        await student
            .Page.GetByLabel("Choose recordings")
            .SetInputFilesAsync([
                Payload("f13.csv"),
                Payload("f12.gpx"),
                new FilePayload
                {
                    Name = "lesson notes.txt",
                    MimeType = "text/plain",
                    Buffer = "Fog, so not flown."u8.ToArray(),
                },
            ]);
        var lines = student.Page.GetByRole(AriaRole.List, new() { Name = "Recordings" }).GetByRole(AriaRole.Listitem);
        await Expect(lines).ToHaveCountAsync(3);
        await Expect(lines.Nth(0).GetByRole(AriaRole.Button).First).ToContainTextAsync("Use it for Timed turns");
        await Expect(lines.Nth(1).GetByRole(AriaRole.Button).First).ToContainTextAsync("Use it for Racetrack");
        await Expect(lines.Nth(2).GetByRole(AriaRole.Alert)).ToContainTextAsync("GPX");
        Assert.Empty(await student.FlawsAsync());

        await lines.Nth(0).GetByRole(AriaRole.Button).First.ClickAsync();
        await Expect(lines.Nth(0)).ToContainTextAsync("Timed turns: next to be scored.");
        var api = await site.AsAsync(SchoolsFixture.OtherStudent);
        var attempt = Assert.Single(
            (await api.AttemptsAsync(ct: TestContext.Current.CancellationToken)).Items,
            a => a.AssignmentId == turns.Id
        );
        await site.ScoreAsync(attempt.AttemptId);
        await Expect(lines.Nth(0)).ToContainTextAsync("scored.");

        // What was not used yet is there after a reload.
        await student.GoAsync("/upload");
        await Expect(lines).ToHaveCountAsync(1);
        await Expect(lines.Nth(0)).ToContainTextAsync("f12.gpx");
    }

    [Fact]
    public async Task A_recording_is_dropped_onto_the_page()
    {
        await using var student = await chromium.EnterAsync(site, SchoolsFixture.Student);
        await student.GoAsync("/upload");
        var dropped = await student.Page.EvaluateHandleAsync(
            "bytes => { const data = new DataTransfer(); data.items.add(new "
                + "File([Uint8Array.from(atob(bytes), c => c.charCodeAt(0))], 'dropped.csv')); return data; }",
            Convert.ToBase64String(Payload("f13.csv").Buffer)
        );
        var zone = student.Page.Locator(".upload");
        // Held over the page until it takes notice: its script may still be on the way.
        await student.Page.WaitForFunctionAsync(
            "data => { const zone = document.querySelector('.upload'); zone.dispatchEvent(new "
                + "DragEvent('dragover', { bubbles: true, cancelable: true, dataTransfer: data })); return "
                + "zone.classList.contains('over'); }",
            dropped
        );
        await zone.DispatchEventAsync("drop", new { dataTransfer = dropped });
        var line = student
            .Page.GetByRole(AriaRole.List, new() { Name = "Recordings" })
            .GetByRole(AriaRole.Listitem)
            .Filter(new() { HasText = "dropped.csv" });
        await Expect(line).ToContainTextAsync("Timed turns");
        await Expect(zone).Not.ToContainClassAsync("over");
        await line.GetByRole(AriaRole.Button, new() { Name = "Remove" }).ClickAsync();
        await Expect(line).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task The_wrong_flight_is_told_at_once_and_nothing_is_on_record_unless_it_is_meant()
    {
        var assignment = await site.AssignAsync("box-circles", SchoolsFixture.OtherStudent);
        await using var student = await chromium.EnterAsync(site, SchoolsFixture.OtherStudent, Screen.PhoneAtNight);
        await student.GoAsync($"/assignments/{assignment.Id}");
        await student.Page.GetByLabel("Choose a recording").SetInputFilesAsync(File("f12.csv"));
        var line = student.Page.GetByRole(AriaRole.List, new() { Name = "Recordings" }).GetByRole(AriaRole.Listitem);
        await Expect(line).ToContainTextAsync("Box with circles was not found in it");
        Assert.Empty(await student.FlawsAsync());
        await line.GetByRole(AriaRole.Button, new() { Name = "Remove" }).ClickAsync();
        await Expect(line).ToHaveCountAsync(0);
        var api = await site.AsAsync(SchoolsFixture.OtherStudent);
        Assert.DoesNotContain(
            (await api.AttemptsAsync(ct: TestContext.Current.CancellationToken)).Items,
            a => a.AssignmentId == assignment.Id
        );
    }

    [Fact]
    public async Task The_site_can_be_put_on_a_phone_and_shared_to()
    {
        await using var student = await chromium.EnterAsync(site, SchoolsFixture.Student);
        var manifest = await student.Page.APIRequest.GetAsync(new Uri(site.Address, "/manifest.webmanifest").ToString());
        Assert.Equal("application/manifest+json", manifest.Headers["content-type"]);
        var json = (await manifest.JsonAsync())!.Value;
        Assert.Equal("/share", json.GetProperty("share_target").GetProperty("action").GetString());
        foreach (var icon in json.GetProperty("icons").EnumerateArray())
        {
            Assert.Equal(
                200,
                (await student.Page.APIRequest.GetAsync(new Uri(site.Address, icon.GetProperty("src").GetString()).ToString())).Status
            );
        }
    }

    private static FilePayload Payload(string recording) =>
        new()
        {
            Name = recording,
            MimeType = "application/octet-stream",
            Buffer = System.IO.File.ReadAllBytes(File(recording)),
        };

    private static string File(string recording) => Path.Combine(AppContext.BaseDirectory, "Recordings", recording);
}
