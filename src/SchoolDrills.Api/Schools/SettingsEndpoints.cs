using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Schools;

/// <summary>What a school sets for itself: its name, time zone, grading scale, quick phrases, whether students assess themselves first,
/// due days, reminders and who drafts drills.</summary>
internal static class SettingsEndpoints
{
    public static void MapSettings(this RouteGroupBuilder api)
    {
        api.MapGet("/school/settings", GetAsync).RequireAuthorization(Policies.SignedIn).WithSummary("What the school sets for itself");
        api.MapPut("/school/settings", PutAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("Sets name, time zone, grading scale, quick phrases, self-assessment, due days, reminders and who drafts drills");
    }

    private static async Task<Ok<SchoolSettings>> GetAsync(SchoolDrillsDbContext db, CancellationToken ct) =>
        TypedResults.Ok(Of(await db.Schools.AsNoTracking().SingleAsync(ct)));

    private static async Task<Results<Ok<SchoolSettings>, ProblemHttpResult>> PutAsync(
        SchoolSettings sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var school = await db.Schools.SingleAsync(ct);
        var used = await db
            .Database.SqlQuery<string>(
                $"""
                select distinct word as "Value" from (
                  select overall as word from grades
                  union all select segment ->> 'grade' from grades, jsonb_array_elements(segments) segment) given
                where word <> ''
                """
            )
            .ToListAsync(ct);
        var (read, refusal) = GradingSheet.Read(sent, school.GradeScale, used);
        if (refusal is not null)
            return Problems.Unprocessable("settings", refusal);
        if ((ReminderProblem(sent.Reminders) ?? SchoolProblem(sent)) is { } problem)
            return Problems.Unprocessable("settings", problem);
        var before = string.Join(", ", school.GradeScale.Select(w => w.Word));
        school.GradeScale = read!.GradeScale;
        school.Grading = read.Grading;
        if (sent.Reminders is { } reminders)
            (school.DueInDays, school.SoonDays, school.DigestHour) = (reminders.DueInDays, reminders.SoonDays, reminders.DigestHour);
        school.Name = sent.Name is { } name ? Names.Plain(name).Trim() : school.Name;
        school.TimeZone = sent.TimeZone ?? school.TimeZone;
        school.InstructorsDraft = sent.InstructorsDraft ?? school.InstructorsDraft;
        db.AuditEntries.Add(
            AuditEntry.By(
                me,
                clock.GetUtcNow(),
                "settings-changed",
                "school",
                me.SchoolId,
                $"before: {before}; after: {string.Join(", ", read.GradeScale.Select(w => w.Retired ? $"{w.Word} (retired)" : w.Word))}"
            )
        );
        await db.SaveChangesAsync(ct);
        return TypedResults.Ok(Of(school));
    }

    private static string? ReminderProblem(ReminderSettings? sent) =>
        sent switch
        {
            { DueInDays: < 1 or > 90 } => "A drill assigned in one go is due in 1 to 90 days.",
            { SoonDays: < 0 or > 14 } => "Students are reminded 0 to 14 days before the due day.",
            { DigestHour: < 0 or > 23 } => "The daily mail is sent from an hour between 0 and 23.",
            _ => null,
        };

    private static string? SchoolProblem(SchoolSettings sent) =>
        sent switch
        {
            { Name: { } name } when string.IsNullOrWhiteSpace(Names.Plain(name)) || name.Length > 200 =>
                "The school needs a name of at most 200 characters.",
            { TimeZone: { } zone } when !TimeZoneInfo.TryFindSystemTimeZoneById(zone, out _) || zone.Length > 100 =>
                $"'{(zone.Length > 100 ? zone[..100] : zone)}' is no time zone: give its IANA name, as Pacific/Auckland.",
            _ => null,
        };

    private static SchoolSettings Of(School school) =>
        new(school.GradeScale, school.Grading)
        {
            Reminders = new(school.DueInDays, school.SoonDays, school.DigestHour),
            Name = school.Name,
            TimeZone = school.TimeZone,
            InstructorsDraft = school.InstructorsDraft,
        };
}
