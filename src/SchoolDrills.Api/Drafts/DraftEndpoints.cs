using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Drills;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Api.Drafts;

/// <summary>Drafts of drills: saved as often as one likes, by several people, with nothing lost, until one is published.</summary>
internal static class DraftEndpoints
{
    private const int MostDrills = 500;

    public static void MapDrafts(this RouteGroupBuilder api)
    {
        var drills = api.MapGroup("/drills").RequireAuthorization(Policies.Drafting);
        drills
            .MapPost("", CreateAsync)
            .Accepts<DrillTemplate>("application/json")
            .WithSummary("A new drill, as a draft; with unfinished=true whatever keeps it from being flown");
        drills
            .MapPut("/{slug}/draft", SaveAsync)
            .Accepts<DrillTemplate>("application/json")
            .WithSummary(
                "Saves a drill's draft; with unfinished=true whatever keeps it from being flown, with If-Match only over the "
                    + "revision one started from"
            );
        drills.MapGet("/{slug}/draft", GetAsync).WithSummary("A drill's draft with its revision, who saved it and what is wrong with it");
        drills.MapDelete("/{slug}/draft", DiscardAsync).WithSummary("Discards a drill's draft; it stays among the revisions for 30 days");
        drills.MapGet("/{slug}/draft/revisions", RevisionsAsync).WithSummary("Drafts that were saved over or discarded, newest first");
        drills.MapGet("/{slug}/draft/revisions/{number:int}", RevisionAsync).WithSummary("One of them, whole");
        api.MapPost("/drills/{slug}/publish", PublishAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("Publishes a drill's draft as its next version; with If-Match only the revision one has seen");
    }

    private static async Task<Results<Created<DrillSummary>, Created<DrillDraft>, ProblemHttpResult>> CreateAsync(
        HttpRequest request,
        bool? unfinished,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var (template, problem) = await DraftStore.ReadAsync(request, db, unfinished is true, ct);
        if (problem is not null)
            return problem;
        if (await db.DrillVersions.AnyAsync(d => d.Slug == template!.Slug, ct))
            return Exists(template!.Slug);
        if (await db.DrillVersions.Select(d => d.Slug).Distinct().CountAsync(ct) >= MostDrills)
        {
            return Problems.Conflict(
                "too-many-drills",
                $"The catalogue has {MostDrills} drills, which is the most: save over a draft that is not needed."
            );
        }

        // Somebody else may have made one of this name since.
        var (draft, changed) = await DraftStore.SaveAsync(template!, startedFrom: 0, me, db, clock, ct);
        if (changed is not null)
            return Exists(template!.Slug);
        RevisionHeader.Write(request.HttpContext.Response, draft!.Revision);
        return unfinished is true
            ? TypedResults.Created($"/api/v1/drills/{draft.Slug}/draft", await DraftStore.ViewAsync(draft, db, ct))
            : TypedResults.Created($"/api/v1/drills/{draft.Slug}", DrillEndpoints.Summary(draft));

        static ProblemHttpResult Exists(string slug) =>
            Problems.Conflict("drill-exists", $"There is already a drill {slug}: save its draft instead, or choose another slug.");
    }

    private static async Task<Results<Ok<DrillSummary>, Ok<DrillDraft>, ProblemHttpResult>> SaveAsync(
        string slug,
        HttpRequest request,
        bool? unfinished,
        [FromHeader(Name = "If-Match")] string? ifMatch,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (RevisionHeader.Read(ifMatch, out var startedFrom) is { } unreadable)
            return unreadable;
        var (template, problem) = await DraftStore.ReadAsync(request, db, unfinished is true, ct);
        if (problem is not null)
            return problem;
        if (template!.Slug != slug)
            return Problems.Unprocessable("slug", $"The draft's slug is {template.Slug}, the address says {slug}: make them the same.");
        if (!await IsKnownAsync(slug, db, ct))
            return Problems.NotFound("drill");
        var (draft, changed) = await DraftStore.SaveAsync(template, startedFrom, me, db, clock, ct);
        if (changed is not null)
            return changed;
        RevisionHeader.Write(request.HttpContext.Response, draft!.Revision);
        return unfinished is true
            ? TypedResults.Ok(await DraftStore.ViewAsync(draft, db, ct))
            : TypedResults.Ok(DrillEndpoints.Summary(draft));
    }

    private static async Task<Results<Ok<DrillDraft>, ProblemHttpResult>> GetAsync(
        string slug,
        HttpResponse response,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (await DraftStore.FindAsync(db, slug, ct) is not { } draft)
            return Problems.NotFound("draft");
        RevisionHeader.Write(response, draft.Revision);
        return TypedResults.Ok(await DraftStore.ViewAsync(draft, db, ct));
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> DiscardAsync(
        string slug,
        [FromHeader(Name = "If-Match")] string? ifMatch,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (RevisionHeader.Read(ifMatch, out var seen) is { } unreadable)
            return unreadable;
        var draft = await DraftStore.FindAsync(db, slug, ct);
        if (seen is not null && seen != (draft?.Revision ?? 0))
            return await DraftStore.ChangedAsync(slug, draft, db, ct);
        if (draft is null)
            return Problems.NotFound("draft");
        db.Add(DraftRevision.Of(draft, me.Id, clock.GetUtcNow(), discarded: true));
        db.DrillVersions.Remove(draft);
        db.AuditEntries.Add(Deed(me, clock, "drill-draft-discarded", draft, $"{slug} draft {draft.Revision}"));
        return await IsSavedAsync(db, ct) ? TypedResults.NoContent() : await ChangedMeanwhileAsync(slug, db, ct);
    }

    private static async Task<Results<Ok<IReadOnlyList<DraftRevisionSummary>>, ProblemHttpResult>> RevisionsAsync(
        string slug,
        SchoolDrillsDbContext db,
        CancellationToken ct
    ) =>
        await IsKnownAsync(slug, db, ct)
            ? TypedResults.Ok<IReadOnlyList<DraftRevisionSummary>>(
                await (
                    from r in db.Set<DraftRevision>().AsNoTracking()
                    where r.Slug == slug
                    orderby r.Revision descending
                    select new DraftRevisionSummary(
                        r.Revision,
                        r.SavedAtUtc,
                        db.People.Where(p => p.Id == r.SavedById).Select(p => p.DisplayName).FirstOrDefault() ?? "",
                        r.ReplacedAtUtc,
                        db.People.Where(p => p.Id == r.ReplacedById).Select(p => p.DisplayName).FirstOrDefault() ?? "",
                        r.Discarded
                    )
                ).ToListAsync(ct)
            )
            : Problems.NotFound("drill");

    private static async Task<Results<Ok<DrillDraft>, ProblemHttpResult>> RevisionAsync(
        string slug,
        int number,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        var kept = await db.Set<DraftRevision>().AsNoTracking().FirstOrDefaultAsync(r => r.Slug == slug && r.Revision == number, ct);
        if (kept is not null)
        {
            var draft = new DrillVersion
            {
                SchoolId = kept.SchoolId,
                Slug = slug,
                Version = 0,
                State = DrillState.Draft,
                Template = kept.Template,
                SavedAtUtc = kept.SavedAtUtc,
                SavedById = kept.SavedById,
                Revision = kept.Revision,
                BasedOnVersion = kept.BasedOnVersion,
            };
            return TypedResults.Ok(await DraftStore.ViewAsync(draft, db, ct));
        }

        // The one that stands, too, so that who has a number need not ask first whether it was saved over.
        return await DraftStore.FindAsync(db, slug, ct) is { } current && current.Revision == number
            ? TypedResults.Ok(await DraftStore.ViewAsync(current, db, ct))
            : Problems.NotFound("revision");
    }

    private static async Task<Results<Ok<DrillSummary>, ProblemHttpResult>> PublishAsync(
        string slug,
        [FromHeader(Name = "If-Match")] string? ifMatch,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (RevisionHeader.Read(ifMatch, out var seen) is { } unreadable)
            return unreadable;
        var draft = await DraftStore.FindAsync(db, slug, ct);
        if (seen is not null && seen != (draft?.Revision ?? 0))
            return await DraftStore.ChangedAsync(slug, draft, db, ct);
        if (draft is null)
        {
            return await db.DrillVersions.AnyAsync(d => d.Slug == slug, ct)
                ? Problems.Conflict("no-draft", $"{slug} has no draft to publish: save one first.")
                : Problems.NotFound("drill");
        }

        if (await DraftStore.ProblemsAsync(draft.Template, db, ct) is [var first, ..] problems)
            return Problems.Unprocessable("template", first, problems);
        var version = 1 + await db.DrillVersions.Where(d => d.Slug == slug).MaxAsync(d => d.Version, ct);
        var published = new DrillVersion
        {
            SchoolId = me.SchoolId,
            Slug = slug,
            Version = version,
            State = DrillState.Published,
            Template = draft.Template with { Version = version },
            SavedAtUtc = clock.GetUtcNow(),
            SavedById = me.Id,
            Revision = draft.Revision,
            BasedOnVersion = draft.BasedOnVersion,
        };
        db.DrillVersions.Add(published);
        db.DrillVersions.Remove(draft);
        db.AuditEntries.Add(Deed(me, clock, "drill-published", published, $"{slug} version {version}"));
        return await IsSavedAsync(db, ct) ? TypedResults.Ok(DrillEndpoints.Summary(published)) : await ChangedMeanwhileAsync(slug, db, ct);
    }

    /// <summary>A drill that has a version, a draft, or a draft that was discarded and may be taken up again.</summary>
    private static async Task<bool> IsKnownAsync(string slug, SchoolDrillsDbContext db, CancellationToken ct) =>
        await db.DrillVersions.AnyAsync(d => d.Slug == slug, ct) || await db.Set<DraftRevision>().AnyAsync(r => r.Slug == slug, ct);

    private static async Task<bool> IsSavedAsync(SchoolDrillsDbContext db, CancellationToken ct)
    {
        try
        {
            await db.SaveChangesAsync(ct);
            return true;
        }
        catch (DbUpdateException e) when (DraftStore.IsRace(e))
        {
            db.ChangeTracker.Clear();
            return false;
        }
    }

    private static async Task<ProblemHttpResult> ChangedMeanwhileAsync(string slug, SchoolDrillsDbContext db, CancellationToken ct) =>
        await DraftStore.ChangedAsync(slug, await DraftStore.FindAsync(db, slug, ct), db, ct);

    private static AuditEntry Deed(CurrentPerson me, TimeProvider clock, string action, DrillVersion drill, string detail) =>
        AuditEntry.By(me, clock.GetUtcNow(), action, "drill", drill.Id, detail);
}
