using System.Globalization;
using System.Text;
using Microsoft.Playwright;
using SchoolDrills.Api.Tests;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Tracks;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>The cockpit page in the air: no network, a browser that dies, tablets whose clocks are wrong.</summary>
public sealed class CockpitTests(SchoolSite site, Chromium chromium) : IClassFixture<SchoolSite>
{
    private const string Drill = "box-circles",
        Title = "Box with circles";

    /// <summary>A flight of the flight dynamics model, the drill and little else.</summary>
    private static readonly Track Flight = Read("f01.gpx");

    /// <summary>Start of the drill in that recording, seconds: from its truth file.</summary>
    private const double DrillStartS = 3;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Flown_with_no_network_and_a_browser_killed_twice_every_mark_arrives_once()
    {
        var assignment = await site.AssignAsync(Drill);
        var folder = Directory.CreateTempSubdirectory("tablet-").FullName;
        var tablet = await chromium.TabletAsync(site.Address, folder);
        var begin = DateTimeOffset.UtcNow;
        await tablet.SetClockAsync(begin);
        await tablet.SignInAsync(SchoolsFixture.EmailOf(SchoolsFixture.Instructor), SchoolsFixture.Password);
        await Expect(tablet.Page.Locator(".drill").First).ToBeVisibleAsync();
        await tablet.KeptAsync();

        await tablet.CutNetworkAsync(true);
        await tablet.Page.ReloadAsync();
        await OpenAsync(tablet, "The student");
        await Expect(tablet.Button("Start now")).ToBeVisibleAsync();

        // The replay's zero: where the tablet's clock stands as the recorder starts.
        var zero = await tablet.ClockAsync();
        var (made, killedAt) = (0, 0);
        // Every third second is enough to be scored, and keeps the test short.
        for (var k = 0; k < Flight.Count; k += 3)
        {
            await tablet.BeAtAsync(Flight.LatDeg[k], Flight.LonDeg[k], Flight.GpsAltitudeFt![k] * 0.3048);
            await tablet.HurryToAsync(zero.AddSeconds(Flight.TimeS[k] - Flight.TimeS[0]));
            var atS = Flight.TimeS[k] - Flight.TimeS[0];
            if (atS == DrillStartS)
            {
                await tablet.Button("Start now").ClickAsync();
                await Expect(Kept(tablet)).ToHaveTextAsync("1");
                made = 1;
            }
            else if (atS > DrillStartS && made < 40 && k % 21 == 0)
            {
                await MarkAsync(tablet);
                await Expect(Kept(tablet)).ToHaveTextAsync($"{++made}");
            }

            if (made is 15 or 30 && made != killedAt)
            {
                killedAt = made;
                var now = await tablet.ClockAsync();
                await tablet.KillAsync();
                await tablet.DisposeAsync();
                tablet = await chromium.TabletAsync(site.Address, folder);
                await tablet.SetClockAsync(now.AddSeconds(1));
                await tablet.CutNetworkAsync(true);
                await tablet.Page.GotoAsync("/cockpit/");
                await Expect(Kept(tablet)).ToHaveTextAsync($"{made}");
            }
        }

        Assert.Equal(40, made);
        await tablet.Button("Stop").ClickAsync();
        await tablet.Button("Drill complete").ClickAsync();
        await tablet.Button("End flight").ClickAsync();
        var result = tablet.Page.GetByRole(AriaRole.Region, new() { Name = "The student: " + Title });
        await Expect(result).ToContainTextAsync("Scored on this device");
        await Expect(result.Locator(".ribbon li")).ToHaveCountAsync(16);
        await Expect(result).ToContainTextAsync("Not everything has been sent yet");

        // A killed browser has forgotten who was signed in.
        await tablet.CutNetworkAsync(false);
        await tablet.Button("Send now").ClickAsync();
        await tablet.Page.GetByRole(AriaRole.Link, new() { Name = "Sign in", Exact = true }).ClickAsync();
        await tablet.SignInAsync(SchoolsFixture.EmailOf(SchoolsFixture.Instructor), SchoolsFixture.Password);
        await tablet.Page.Locator(".flights a").ClickAsync();
        await Expect(result).ToContainTextAsync("Everything has been sent.");
        // Sent again, as after an answer that was lost on the way: once is once.
        await tablet.Page.ReloadAsync();
        await Expect(result).ToContainTextAsync("Everything has been sent.");
        Assert.Empty(tablet.Faults);
        await tablet.DisposeAsync();

        var instructor = await site.AsAsync(SchoolsFixture.Instructor);
        var attempt = Assert.Single(
            (await instructor.AttemptsAsync(drillSlug: Drill, ct: Cancel)).Items,
            a => a.AssignmentId == assignment.Id
        );
        await site.ScoreAsync(attempt.AttemptId);
        var scored = await instructor.AttemptAsync(attempt.AttemptId, Cancel);
        Assert.Equal(40, scored.Events.Count);
        Assert.Equal(40, scored.Events.Select(e => e.Id).Distinct().Count());
        Assert.True(scored.Score!.Found);
        Assert.Equal(zero.AddSeconds(DrillStartS), scored.Score.StartUtc!.Value, TimeSpan.FromSeconds(6));
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public async Task Two_tablets_note_one_attempt_and_the_clock_that_is_40_s_fast_is_set_right()
    {
        var assignment = await site.AssignAsync(Drill, SchoolsFixture.OtherStudent);
        await using var right = await NoteAsync(TimeSpan.Zero, "Traffic", "Traffic clear");
        await using var fast = await NoteAsync(TimeSpan.FromSeconds(40), "I have control", "You have control");
        var noted = DateTimeOffset.UtcNow;
        await SendAsync(right);
        await SendAsync(fast);

        // The recorder of the aircraft comes later, with the student: it began two minutes before.
        var student = await site.AsAsync(SchoolsFixture.OtherStudent);
        using var recording = new MemoryStream(Csv(noted.AddMinutes(-4)));
        var accepted = await student.UploadAsync(assignment.Id, recording, "flight.csv", new AttemptMeta(), Cancel);
        await site.ScoreAsync(accepted.AttemptId);

        var attempt = await (await site.AsAsync(SchoolsFixture.Instructor)).AttemptAsync(accepted.AttemptId, Cancel);
        foreach (var kind in new[] { "traffic", "traffic-clear", "took-control", "handed-back" })
        {
            var one = Assert.Single(attempt.Events, e => e.Kind == kind);
            Assert.InRange(one.AtUtc, noted.AddSeconds(-90), noted.AddSeconds(2));
        }

        var logs = await (await site.AsAsync(SchoolsFixture.Instructor)).AttemptFlightLogsAsync(accepted.AttemptId, Cancel);
        Assert.Equal([0, 40], logs.Select(l => l.ShiftS).Order().Select(s => Math.Round(s / 5) * 5));
    }

    /// <summary>An instructor with a tablet whose clock is off opens the drill, starts it and taps two keys.</summary>
    private async Task<Tablet> NoteAsync(TimeSpan ahead, params string[] keys)
    {
        var tablet = await chromium.TabletAsync(site.Address, Directory.CreateTempSubdirectory("tablet-").FullName, 390, 844);
        await tablet.SetClockAsync(DateTimeOffset.UtcNow + ahead);
        await tablet.SignInAsync(SchoolsFixture.EmailOf(SchoolsFixture.Instructor), SchoolsFixture.Password);
        await Expect(tablet.Page.Locator(".drill").First).ToBeVisibleAsync();
        await tablet.Page.GetByText("Sound and screen").ClickAsync();
        await tablet.Page.GetByLabel("Record this device").UncheckAsync();
        await OpenAsync(tablet, "The other-student");
        await tablet.CutNetworkAsync(true);
        await tablet.Button("Start now").ClickAsync();
        foreach (var key in keys)
            await tablet.Button(key).ClickAsync();
        await Expect(Kept(tablet)).ToHaveTextAsync($"{1 + keys.Length}");
        return tablet;
    }

    private static async Task SendAsync(Tablet tablet)
    {
        await tablet.Button("Stop").ClickAsync();
        await tablet.Button("Drill complete").ClickAsync();
        await tablet.CutNetworkAsync(false);
        await tablet.Button("End flight").ClickAsync();
        await Expect(tablet.Page.Locator(".drill-result")).ToContainTextAsync("Everything has been sent.");
    }

    /// <summary>Marks what is due, else a moment to remember.</summary>
    private static async Task MarkAsync(Tablet tablet)
    {
        var due = tablet.Page.Locator(".due .key");
        if (await due.CountAsync() > 0)
        {
            await due.First.ClickAsync();
            return;
        }

        await tablet.Button("Note").ClickAsync();
        await tablet.Button("Mark this moment").ClickAsync();
    }

    private static Task OpenAsync(Tablet tablet, string student) =>
        tablet
            .Page.Locator(".drill", new() { HasText = Title })
            .And(tablet.Page.Locator(".drill", new() { HasText = student }))
            .ClickAsync();

    private static ILocator Kept(Tablet tablet) => tablet.Page.Locator(".bar .last strong");

    /// <summary>The flight as a recorder of the aircraft has it that was switched on at a time.</summary>
    private static byte[] Csv(DateTimeOffset startUtc)
    {
        var csv = new StringBuilder("utc time,latitude (deg),longitude (deg),gps altitude (ft)\n");
        for (var k = 0; k < Flight.Count; k++)
        {
            var at = startUtc.AddSeconds(Flight.TimeS[k] - Flight.TimeS[0]).UtcDateTime;
            csv.Append(
                CultureInfo.InvariantCulture,
                $"{at:yyyy-MM-ddTHH:mm:ss.fffZ},{Flight.LatDeg[k]:0.0000000},{Flight.LonDeg[k]:0.0000000},{Flight.GpsAltitudeFt![k]:0}\n"
            );
        }

        return Encoding.UTF8.GetBytes(csv.ToString());
    }

    private static Track Read(string name)
    {
        using var file = SchoolsFixture.Recording(name);
        return TrackReader.Read(file).Track!;
    }
}
