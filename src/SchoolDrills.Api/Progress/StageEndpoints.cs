using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Progress;

namespace SchoolDrills.Api.Progress;

/// <summary>The stages of a school's training, and where its students stand in them.</summary>
internal static class StageEndpoints
{
    private const int MostStages = 20,
        MostDrills = 30,
        MostNewest = 10,
        LongestTitle = 80,
        PageSize = 20;

    public static void MapStages(this RouteGroupBuilder api)
    {
        var school = api.MapGroup("/school");
        school
            .MapGet("/stages", GetAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("The stages of training, in their order, each with the drills it asks for");
        school
            .MapPut("/stages", PutAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("Sets the stages of training; an empty list goes back to those of the starter catalogue");
        school
            .MapGet("/readiness", ReadinessAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Where students stand in the stages, 20 a page, with the newest attempts as evidence; it decides nothing");
    }

    private static async Task<Ok<SchoolStages>> GetAsync(SchoolDrillsDbContext db, CancellationToken ct) =>
        TypedResults.Ok(await Standing.StagesAsync(db, ct));

    private static async Task<Results<Ok<SchoolStages>, ProblemHttpResult>> PutAsync(
        SchoolStages sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var known = (await db.DrillVersions.Select(d => d.Slug).Distinct().ToListAsync(ct)).ToHashSet();
        if (Problem(sent.Stages, known) is { } problem)
            return Problems.Unprocessable("stages", problem);
        var school = await db.Schools.SingleAsync(ct);
        var before = string.Join(", ", (await Standing.StagesAsync(db, ct)).Stages.Select(s => s.Title));
        school.Stages = sent.Stages.Count == 0 ? null : [.. sent.Stages.Select(s => s with { Title = s.Title.Trim() })];
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "stages-changed", "school", me.SchoolId, Kept($"before: {before}")));
        await db.SaveChangesAsync(ct);
        return TypedResults.Ok(await Standing.StagesAsync(db, ct));
    }

    private static string Kept(string detail) => detail.Length > 2000 ? detail[..2000] : detail;

    /// <summary>Why these stages cannot stand, one sentence; null where they can.</summary>
    private static string? Problem(IReadOnlyList<TrainingStage>? stages, HashSet<string> known)
    {
        if (stages is null || stages.Any(s => s?.Drills is null || s.Drills.Any(d => d is null)))
            return "Send the whole of the stages, each with slug, title and drills.";
        if (stages.Count > MostStages)
            return $"There are {stages.Count} stages: {MostStages} are the most.";
        foreach (var (stage, number) in stages.Select((s, i) => (s, i + 1)))
        {
            if (string.IsNullOrWhiteSpace(stage.Title) || stage.Title.Trim().Length > LongestTitle)
                return $"Stage {number} needs a title of at most {LongestTitle} characters.";
            if (stage.Slug is not { Length: > 0 and <= 100 } || stages.Count(s => s.Slug == stage.Slug) > 1)
                return $"{stage.Title} needs a slug of its own, at most 100 characters.";
            if (stage.Drills.Count is 0 or > MostDrills)
                return $"{stage.Title} asks for between one and {MostDrills} drills; this is {stage.Drills.Count}.";
            foreach (var drill in stage.Drills)
            {
                if (drill.DrillSlug is null || !known.Contains(drill.DrillSlug))
                    return $"{stage.Title} asks for '{drill.DrillSlug}', which is no drill of the school.";
                if (stage.Drills.Count(d => d.DrillSlug == drill.DrillSlug) > 1)
                    return $"{stage.Title} asks for {drill.DrillSlug} twice.";
                if (drill.Newest is < 1 or > MostNewest || drill.Met < 1 || drill.Met > drill.Newest)
                {
                    return $"{drill.DrillSlug} in {stage.Title}: of the last 1 to {MostNewest} attempts, at least one and at most all "
                        + "have to be met.";
                }
            }
        }

        return null;
    }

    private static async Task<Results<Ok<SchoolReadiness>, ProblemHttpResult>> ReadinessAsync(
        string? stage,
        int? page,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        Concluded<StagePlace> concluded,
        CancellationToken ct
    )
    {
        if (ListPage.Problem(page) is { } problem)
            return problem;
        var stages = (await Standing.StagesAsync(db, ct)).Stages;
        var named = stages.SelectMany(s => s.Drills).Select(d => d.DrillSlug).ToHashSet();
        var titles = (await DrillTitles.AllAsync(db, ct)).Where(t => named.Contains(t.Key));
        var order = stages.Select((s, place) => (s.Slug, place)).ToDictionary(s => s.Slug, s => s.place);
        var places = await Standing.PlacesAsync(db, me, concluded, stages, ct);
        var found = places.Where(p => stage is null || p.Place.StageSlug == stage).ToList();
        var shown = found
            .OrderBy(p => p.Place.StageSlug is { } slug ? order[slug] : 0)
            .ThenByDescending(p => p.Place.Ready)
            .Skip(((page ?? 1) - 1) * PageSize)
            .Take(PageSize)
            .ToList();
        var readiness = await Standing.OfStudentsAsync(db, shown.ConvertAll(p => p.Id), stages, ct);
        return TypedResults.Ok(
            new SchoolReadiness(
                stages,
                [.. titles.Select(t => new DrillName(t.Key, t.Value)).OrderBy(d => d.DrillTitle, StringComparer.Ordinal)],
                [
                    .. shown.Select(s => new StudentReadiness(
                        s.Id,
                        s.Name,
                        readiness[s.Id].Stage?.Slug,
                        readiness[s.Id].Stage?.Title,
                        readiness[s.Id].Ready,
                        readiness[s.Id].Drills
                    )),
                ],
                [
                    .. stages.Select(s => new StageCount(
                        s.Slug,
                        places.Count(p => p.Place.StageSlug == s.Slug),
                        places.Count(p => p.Place.StageSlug == s.Slug && p.Place.Ready)
                    )),
                ],
                page ?? 1,
                PageSize,
                found.Count
            )
        );
    }
}
