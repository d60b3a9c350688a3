using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Api.Drills;

/// <summary>Changing the catalogue: drafts are saved, published as the next version, retired. A published version never changes.</summary>
internal static class CatalogueEndpoints
{
    private const int MostDrills = 500;

    public static void MapCatalogue(this RouteGroupBuilder api)
    {
        var drills = api.MapGroup("/drills").RequireAuthorization(Policies.Chief);
        drills.MapPost("", CreateAsync).Accepts<DrillTemplate>("application/json").WithSummary("A new drill, as a draft");
        drills.MapPut("/{slug}/draft", SaveDraftAsync).Accepts<DrillTemplate>("application/json").WithSummary("Saves a drill's draft");
        drills.MapPost("/{slug}/publish", PublishAsync).WithSummary("Publishes a drill's draft as its next version");
        drills.MapPost("/{slug}/retire", RetireAsync).WithSummary("Retires a drill: it is no longer assigned, its attempts stay");
        api.MapGet("/standards", StandardsAsync).RequireAuthorization(Policies.SignedIn).WithSummary("Tolerance standards of the school");
        api.MapPost("/standards", AddStandardAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("Adds a tolerance standard; it never changes after, so that what was judged by it stays explainable");
        api.MapGet("/drill-template.schema.json", () => TypedResults.Text(TemplateJson.Schema, "application/schema+json"))
            .AllowAnonymous()
            .WithSummary("JSON Schema of a drill template");
    }

    private static async Task<Results<Created<DrillSummary>, ProblemHttpResult>> CreateAsync(
        HttpRequest request,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var (template, problem) = await ReadAsync(request, db, ct);
        if (problem is not null)
            return problem;
        if (await db.DrillVersions.AnyAsync(d => d.Slug == template!.Slug, ct))
        {
            return Problems.Conflict(
                "drill-exists",
                $"There is already a drill {template!.Slug}: save its draft instead, or choose another slug."
            );
        }

        if (await db.DrillVersions.Select(d => d.Slug).Distinct().CountAsync(ct) >= MostDrills)
        {
            return Problems.Conflict(
                "too-many-drills",
                $"The catalogue has {MostDrills} drills, which is the most: save over a draft that is not needed."
            );
        }

        return TypedResults.Created(
            $"/api/v1/drills/{template!.Slug}",
            DrillEndpoints.Summary(await KeepDraftAsync(template, me, db, clock, ct))
        );
    }

    private static async Task<Results<Ok<DrillSummary>, ProblemHttpResult>> SaveDraftAsync(
        string slug,
        HttpRequest request,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var (template, problem) = await ReadAsync(request, db, ct);
        if (problem is not null)
            return problem;
        if (template!.Slug != slug)
            return Problems.Unprocessable("slug", $"The draft's slug is {template.Slug}, the address says {slug}: make them the same.");
        if (!await db.DrillVersions.AnyAsync(d => d.Slug == slug, ct))
            return Problems.NotFound("drill");
        return TypedResults.Ok(DrillEndpoints.Summary(await KeepDraftAsync(template, me, db, clock, ct)));
    }

    private static async Task<Results<Ok<DrillSummary>, ProblemHttpResult>> PublishAsync(
        string slug,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var draft = await db.DrillVersions.FirstOrDefaultAsync(d => d.Slug == slug && d.State == DrillState.Draft, ct);
        if (draft is null)
        {
            return await db.DrillVersions.AnyAsync(d => d.Slug == slug, ct)
                ? Problems.Conflict("no-draft", $"{slug} has no draft to publish: save one first.")
                : Problems.NotFound("drill");
        }

        var version = 1 + await db.DrillVersions.Where(d => d.Slug == slug).MaxAsync(d => d.Version, ct);
        var published = new DrillVersion
        {
            SchoolId = me.SchoolId,
            Slug = slug,
            Version = version,
            State = DrillState.Published,
            Template = draft.Template with { Version = version },
            SavedAtUtc = clock.GetUtcNow(),
        };
        db.DrillVersions.Add(published);
        db.DrillVersions.Remove(draft);
        db.AuditEntries.Add(Deed(me, clock, "drill-published", published, $"{slug} version {version}"));
        await db.SaveChangesAsync(ct);
        return TypedResults.Ok(DrillEndpoints.Summary(published));
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> RetireAsync(
        string slug,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var published = await db.DrillVersions.Where(d => d.Slug == slug && d.State == DrillState.Published).ToListAsync(ct);
        if (published.Count == 0)
            return Problems.NotFound("published drill");
        foreach (var drill in published)
            drill.State = DrillState.Retired;
        db.AuditEntries.Add(Deed(me, clock, "drill-retired", published[^1], slug));
        await db.SaveChangesAsync(ct);
        return TypedResults.NoContent();
    }

    private static async Task<Ok<IReadOnlyList<ToleranceStandard>>> StandardsAsync(SchoolDrillsDbContext db, CancellationToken ct) =>
        TypedResults.Ok<IReadOnlyList<ToleranceStandard>>(
            await db.Standards.AsNoTracking().OrderBy(s => s.Slug).Select(s => s.Standard).ToListAsync(ct)
        );

    private static async Task<Results<Created<ToleranceStandard>, ProblemHttpResult>> AddStandardAsync(
        ToleranceStandard standard,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (standard.Problems() is [var first, ..] problems)
            return Problems.Unprocessable("standard", first, problems);
        if (await db.Standards.AnyAsync(s => s.Slug == standard.Slug, ct))
        {
            return Problems.Conflict(
                "standard-exists",
                $"There is already a standard {standard.Slug}, and standards do not change: give the new one another slug."
            );
        }

        var row = new StandardRow
        {
            SchoolId = me.SchoolId,
            Slug = standard.Slug,
            Standard = standard,
        };
        db.Standards.Add(row);
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "standard-added", "standard", row.Id, standard.Slug));
        await db.SaveChangesAsync(ct);
        return TypedResults.Created("/api/v1/standards", standard);
    }

    private static async Task<(DrillTemplate? Template, ProblemHttpResult? Problem)> ReadAsync(
        HttpRequest request,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        using var body = new MemoryStream();
        await request.Body.CopyToAsync(body, ct);
        body.Position = 0;
        var (template, problems) = TemplateJson.Read(body);
        if (template is null)
            return (null, Problems.Unprocessable("template", problems[0], problems));
        if (TemplateProblems.Of(template) is [var first, ..] reasons)
            return (null, Problems.Unprocessable("template", first, reasons));
        return await db.Standards.AnyAsync(s => s.Slug == template.StandardSlug, ct)
            ? (template, null)
            : (null, Problems.Unprocessable("standard", $"The school has no tolerance standard {template.StandardSlug}."));
    }

    private static async Task<DrillVersion> KeepDraftAsync(
        DrillTemplate template,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var draft = await db.DrillVersions.FirstOrDefaultAsync(d => d.Slug == template.Slug && d.State == DrillState.Draft, ct);
        if (draft is null)
        {
            draft = new DrillVersion
            {
                SchoolId = me.SchoolId,
                Slug = template.Slug,
                Version = 0,
                State = DrillState.Draft,
                Template = template with { Version = 0 },
                SavedAtUtc = clock.GetUtcNow(),
            };
            db.DrillVersions.Add(draft);
        }
        else
        {
            draft.Template = template with { Version = 0 };
            draft.SavedAtUtc = clock.GetUtcNow();
        }

        await db.SaveChangesAsync(ct);
        return draft;
    }

    private static AuditEntry Deed(CurrentPerson me, TimeProvider clock, string action, DrillVersion drill, string detail) =>
        new()
        {
            SchoolId = me.SchoolId,
            AtUtc = clock.GetUtcNow(),
            PersonId = me.Id,
            Action = action,
            Subject = "drill",
            SubjectId = drill.Id,
            Detail = detail,
        };
}
