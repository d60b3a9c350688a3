using System.Net;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Setup;

/// <summary>How far a new school has come is told by what it has.</summary>
public sealed class SchoolStartTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Steps_are_done_once_the_school_has_what_they_ask_for()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        Assert.Equal([StartSteps.People, StartSteps.Drills], Done(await chief.SchoolStartAsync(Cancel)));

        var settings = await chief.SettingsAsync(Cancel);
        var saved = await chief.SaveSettingsAsync(settings with { Name = "Tussock Plains Aero Club", TimeZone = "Europe/Lisbon" }, Cancel);
        Assert.Equal(("Tussock Plains Aero Club", "Europe/Lisbon"), (saved.Name, saved.TimeZone));
        Assert.Equal("Europe/Lisbon", (await chief.MeAsync(Cancel)).School.TimeZone);
        // Who does not send them leaves them alone.
        saved = await chief.SaveSettingsAsync(new SchoolSettings(saved.GradeScale, saved.Grading), Cancel);
        Assert.Equal("Tussock Plains Aero Club", saved.Name);
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => chief.SaveSettingsAsync(saved with { TimeZone = "Mars/Olympus" }, Cancel)
        );
        await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => chief.SaveSettingsAsync(saved with { Name = " " }, Cancel));

        await app.AssignAsync("racetrack");
        var start = await chief.SchoolStartAsync(Cancel);
        Assert.Equal(StartSteps.All.Except([StartSteps.Recording]), Done(start));
        Assert.False(start.Finished);

        using var http = await app.HttpAsync(SchoolsFixture.Chief);
        await using var sample = await http.GetStreamAsync("/api/v1/school/sample-recording", Cancel);
        var report = await chief.ScorePreviewAsync(SchoolStart.SampleDrill, sample, "sample.gpx", new AttemptMeta(), Cancel);
        Assert.True(report.Found);
        Assert.True((await chief.SchoolStartAsync(Cancel)).Finished);
        Assert.Equal(0, await app.QueryAsync(db => db.Attempts.CountAsync(Cancel)));
    }

    [Fact]
    public async Task Skipped_steps_and_the_wish_not_to_be_reminded_are_the_schools_and_can_be_taken_back()
    {
        var chief = await app.AsAsync(SchoolsFixture.FarChief);
        var start = await chief.SaveSchoolStartAsync(
            new SaveSchoolStart([StartSteps.School, StartSteps.Assignment, StartSteps.Recording], Dismissed: true),
            Cancel
        );
        Assert.True(start is { Finished: true, Dismissed: true });
        start = await chief.SaveSchoolStartAsync(new SaveSchoolStart([]), Cancel);
        Assert.True(start is { Finished: false, Dismissed: true });
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => chief.SaveSchoolStartAsync(new SaveSchoolStart(["party"]), Cancel)
        );
        Assert.False((await (await app.AsAsync(SchoolsFixture.Chief)).SchoolStartAsync(Cancel)).Dismissed);
    }

    private static IEnumerable<string> Done(SchoolStart start) => start.Steps.Where(s => s.Done).Select(s => s.Slug);
}
