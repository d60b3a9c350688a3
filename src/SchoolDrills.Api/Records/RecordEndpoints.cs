using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.People;
using SchoolDrills.Api.Schools;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Records;

/// <summary>Training records: read, taken out, kept as long as the rules say, and erased after.</summary>
internal static class RecordEndpoints
{
    public static void MapRecords(this RouteGroupBuilder api)
    {
        api.MapGet("/students/{id:guid}/record", RecordAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary("A student's training record: every attempt in the order flown, with its signed grades");
        api.MapGet("/people/{id:guid}/data", DataAsync)
            .RequireAuthorization(Policies.Confirmed)
            .WithSummary("All that is kept of a person, as a zip of JSON and original recordings: one's own, or anyone's for the chief");
        api.MapGet("/school/export", ExportAsync)
            .RequireAuthorization(Policies.ChiefConfirmed)
            .WithSummary("All that is kept of the school, as a zip of JSON and original recordings");
        api.MapGet("/school/records", OverviewAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("How long records are kept, by which rules, and whose time has come");
        api.MapPut("/school/records", SaveSettingsAsync)
            .RequireAuthorization(Policies.ChiefConfirmed)
            .WithSummary("Sets which rules on keeping records bind the school, and what instructors see");
        api.MapPut("/people/{id:guid}/legal-hold", HoldAsync)
            .RequireAuthorization(Policies.ChiefConfirmed)
            .WithSummary("Sets or lifts a legal hold: nothing of that person may be erased");
        api.MapPost("/people/{id:guid}/erase", EraseAsync)
            .RequireAuthorization(Policies.ChiefConfirmed)
            .WithSummary("Erases a closed account whose records need no longer be kept; the school's figures stay, under a pseudonym");
    }

    private static async Task<Results<Ok<TrainingRecord>, ProblemHttpResult>> RecordAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (!me.MaySee(id) || await TrainingRecords.MakeAsync(db, id, me, clock.GetUtcNow(), ct) is not { } record)
            return Problems.NotFound("student");
        // The digest of what was handed out stands in the trail, so that a printed record can be checked against it.
        db.AuditEntries.Add(
            AuditEntry.By(me, record.MadeAtUtc, "record-made", "person", id, $"{record.Entries.Count} entries, SHA-256 {record.Digest}")
        );
        await db.SaveChangesAsync(ct);
        return TypedResults.Ok(record);
    }

    private static async Task<Results<PushStreamHttpResult, ProblemHttpResult>> DataAsync(
        Guid id,
        HttpContext http,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        AccountsDbContext accounts,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if ((id != me.Id && !me.IsChief) || !await db.People.AnyAsync(p => p.Id == id, ct))
            return Problems.NotFound("person");
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "person-exported", "person", id));
        await db.SaveChangesAsync(ct);
        return Zip(http, db, accounts, id, "my-data.zip", ct);
    }

    private static async Task<PushStreamHttpResult> ExportAsync(
        HttpContext http,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        AccountsDbContext accounts,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "school-exported", "school", me.SchoolId));
        await db.SaveChangesAsync(ct);
        return Zip(http, db, accounts, null, "school.zip", ct);
    }

    private static PushStreamHttpResult Zip(
        HttpContext http,
        SchoolDrillsDbContext db,
        AccountsDbContext accounts,
        Guid? personId,
        string name,
        CancellationToken ct
    )
    {
        // The end of each part of a zip is written synchronously by the library, whatever it is asked.
        if (http.Features.Get<IHttpBodyControlFeature>() is { } body)
            body.AllowSynchronousIO = true;
        return TypedResults.Stream(stream => ExportFile.WriteAsync(stream, db, accounts, personId, ct), "application/zip", name);
    }

    private static async Task<Ok<RecordsOverview>> OverviewAsync(SchoolDrillsDbContext db, TimeProvider clock, CancellationToken ct) =>
        TypedResults.Ok(await Retention.OverviewAsync(db, clock.GetUtcNow(), ct));

    private static async Task<Results<Ok<RecordsOverview>, ProblemHttpResult>> SaveSettingsAsync(
        RecordSettings sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var unknown = (sent.RetentionRules ?? []).FirstOrDefault(slug => RetentionRules.All.All(r => r.Slug != slug));
        if (unknown is not null)
            return Problems.Unprocessable("rule", $"There is no rule '{unknown}': take those that GET school/records lists.");
        if (sent.RetentionOwnYears is < 0 or > 50)
            return Problems.Unprocessable("years", "The school's own time for keeping records is 0 to 50 years.");
        var school = await db.Schools.SingleAsync(ct);
        school.InstructorsSeeOwnStudentsOnly = sent.InstructorsSeeOwnStudentsOnly;
        school.RetentionRules = [.. (sent.RetentionRules ?? []).Distinct()];
        school.RetentionOwnYears = sent.RetentionOwnYears;
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "record-settings-changed", "school", me.SchoolId));
        await db.SaveChangesAsync(ct);
        return TypedResults.Ok(await Retention.OverviewAsync(db, clock.GetUtcNow(), ct));
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> HoldAsync(
        Guid id,
        SetLegalHold sent,
        CurrentPerson me,
        AccountsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (sent.Hold && string.IsNullOrWhiteSpace(sent.Reason) || sent.Reason?.Length > 500)
            return Problems.Unprocessable("reason", "A legal hold needs its reason, in at most 500 characters.");
        if (await PeopleEndpoints.FindAsync(db, id, ct) is not { } person)
            return Problems.NotFound("person");
        (person.LegalHold, person.HoldReason) = (sent.Hold, sent.Hold ? sent.Reason!.Trim() : null);
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), sent.Hold ? "hold-set" : "hold-lifted", "person", id));
        await db.SaveChangesAsync(ct);
        return TypedResults.NoContent();
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> EraseAsync(
        Guid id,
        ErasePerson sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await PeopleEndpoints.FindAsync(db, id, ct) is not { } person)
            return Problems.NotFound("person");
        if (sent.DisplayName?.Trim() != person.DisplayName)
            return Problems.Unprocessable("name", $"Type the name as it stands, {person.DisplayName}: erasing cannot be undone.");
        var kept = await Retention.OfAsync(db, id, clock.GetUtcNow(), ct);
        if (kept.LegalHold)
            return Problems.Conflict("legal-hold", $"{person.DisplayName} is under a legal hold: {kept.HoldReason}");
        if (kept.Active)
            return Problems.Conflict("still-active", $"Close the account of {person.DisplayName} first.");
        if (!kept.MayErase)
        {
            return Problems.Conflict(
                "must-be-kept",
                $"The training record of {person.DisplayName} must be kept until {kept.KeepUntil:yyyy-MM-dd}; "
                    + "it can be erased after that day."
            );
        }

        var pseudonym = $"Former {(person.Roles.Contains(Roles.Student) ? "student" : "instructor")} {Guid.NewGuid().ToString("N")[..6]}";
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        await db.Database.ExecuteSqlAsync($"select erasure.erase_person({id}, {pseudonym})", ct);
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "person-erased", "person", id, pseudonym));
        await db.SaveChangesAsync(ct);
        await transaction.CommitAsync(ct);
        return TypedResults.NoContent();
    }
}
