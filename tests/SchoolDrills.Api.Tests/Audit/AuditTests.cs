using System.Net;
using System.Text.Json;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Audit;

/// <summary>Who did what can be shown: to the chief, with what was before and after.</summary>
public sealed class AuditTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_grade_and_its_amendment_stand_in_the_trail_with_before_and_after()
    {
        var attemptId = await app.ScoredAsync("timed-turns", "f13.csv");
        var http = await app.HttpAsync(SchoolsFixture.Instructor);
        http.DefaultRequestHeaders.UserAgent.ParseAdd("school-tablet/2.0");
        var instructor = new SchoolDrillsClient(http);
        await instructor.SaveGradeAsync(attemptId, new SaveGrade("not-yet", [], "Late roll-outs.", true), Cancel);
        await instructor.AmendGradeAsync(attemptId, new AmendGrade("with-help", [], "Late roll-outs, but one.", "Counted again."), Cancel);

        var lines = (await LinesAsync(what: null)).Where(l => l.SubjectId == attemptId).ToList();
        Assert.Equal(["grade-amended", "grade-signed", "attempt-scored", "attempt-uploaded"], lines.Select(l => l.What));
        Assert.Equal(["The instructor", "The instructor", null, "The student"], lines.Select(l => l.Who));
        Assert.Equal("school-tablet/2.0", lines[0].UserAgent);
        Assert.Contains(new AuditChange("overall", "not-yet", "with-help"), lines[0].Changes);
        Assert.Contains(new AuditChange("comment", "Late roll-outs.", "Late roll-outs, but one."), lines[0].Changes);
        Assert.Contains(new AuditChange("overall", null, "not-yet"), lines[1].Changes);
        Assert.Contains(lines[2].Changes, c => c is { Field: "status", After: "scored" });
        Assert.Contains(lines[2].Changes, c => c is { Field: "withinShare", Before: null, After: not null });
    }

    [Fact]
    public async Task People_and_the_catalogue_stand_in_the_trail_with_before_and_after()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var made = await chief.InviteAsync(new InvitePerson("Before", "before@tussockplains.example", [Roles.Student]), Cancel);
        await chief.EditPersonAsync(made.Person.Id, new EditPerson("After", [Roles.Student, Roles.Instructor]), Cancel);
        var changed = Assert.Single(await LinesAsync("person-changed"), l => l.SubjectId == made.Person.Id);
        Assert.Equal(
            [new AuditChange("displayName", "Before", "After"), new AuditChange("roles", "student", "student, instructor")],
            changed.Changes
        );

        using var http = await app.HttpAsync(SchoolsFixture.Chief);
        Assert.True((await http.PostAsync("/api/v1/drills/racetrack/retire", null, Cancel)).IsSuccessStatusCode);
        Assert.Contains(new AuditChange("state", "published", "retired"), (await LinesAsync("drill-retired"))[0].Changes);
    }

    [Fact]
    public async Task The_trail_is_asked_by_day_person_and_deed_and_paged()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        for (var i = 0; i < 3; i++)
            await app.AssignAsync("box-circles");
        var byDeed = await chief.AuditAsync(what: "drill-assigned", ct: Cancel);
        Assert.All(byDeed.Items, l => Assert.Equal(("drill-assigned", "The instructor"), (l.What, l.Who)));
        Assert.True(byDeed.Total >= 3);
        Assert.Contains("drill-assigned", byDeed.Actions);
        Assert.Equal(
            byDeed.Total,
            (await chief.AuditAsync(who: app.IdOf(SchoolsFixture.Instructor), what: "drill-assigned", ct: Cancel)).Total
        );
        Assert.Equal(0, (await chief.AuditAsync(who: app.IdOf(SchoolsFixture.Student), what: "drill-assigned", ct: Cancel)).Total);
        Assert.Equal(0, (await chief.AuditAsync(to: new DateOnly(2020, 1, 1), ct: Cancel)).Total);
        Assert.Empty((await chief.AuditAsync(page: 1000, ct: Cancel)).Items);
        Assert.Equal([.. byDeed.Items.Select(l => l.Id).OrderDescending()], byDeed.Items.Select(l => l.Id));
    }

    [Fact]
    public async Task The_export_runs_nobodys_formulas_and_reads_back_as_JSON()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var made = await chief.InviteAsync(
            new InvitePerson("=cmd|' /C calc'!A0", "formula@tussockplains.example", [Roles.Student]),
            Cancel
        );
        await chief.EditPersonAsync(made.Person.Id, new EditPerson("@SUM(1,2)", [Roles.Student]), Cancel);
        await chief.SetLegalHoldAsync(made.Person.Id, new SetLegalHold(true, "-2+3"), Cancel);
        using var http = await app.HttpAsync(SchoolsFixture.Chief);
        var csv = await http.GetAsync("/api/v1/school/audit/export?format=csv", Cancel);
        Assert.Equal("text/csv", csv.Content.Headers.ContentType?.MediaType);
        Assert.Equal("attachment", csv.Content.Headers.ContentDisposition?.DispositionType);
        foreach (var line in (await csv.Content.ReadAsStringAsync(Cancel)).TrimStart('\uFEFF').Split("\r\n"))
            Assert.DoesNotMatch("(^|,)\"?[=+@-]", line);
        var json = JsonDocument
            .Parse(await http.GetStringAsync($"/api/v1/school/audit/export?format=json&who={made.Person.Id}", Cancel))
            .RootElement;
        Assert.Equal(
            ["person-invited", "person-changed", "hold-set"],
            json.EnumerateArray().Select(l => l.GetProperty("what").GetString())
        );
        await (await http.GetAsync("/api/v1/school/audit/export?format=xml", Cancel)).ProblemAsync(HttpStatusCode.BadRequest);
    }

    private async Task<IReadOnlyList<AuditLine>> LinesAsync(string? what) =>
        (await (await app.AsAsync(SchoolsFixture.Chief)).AuditAsync(what: what, ct: Cancel)).Items;
}
