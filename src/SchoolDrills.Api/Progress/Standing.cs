using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Progress;

/// <summary>A student's place among the stages, without the attempts that say so.</summary>
/// <param name="StageSlug">Null where the school has no stages.</param>
/// <param name="Evidence">Attempts that count at this stage.</param>
/// <param name="NotMet">Of these.</param>
internal sealed record StagePlace(string? StageSlug, bool Ready, int Evidence, int NotMet)
{
    public static StagePlace Of(StageReadiness readiness)
    {
        var evidence = readiness.Drills.SelectMany(d => d.Evidence).ToList();
        return new(readiness.Stage?.Slug, readiness.Ready, evidence.Count, evidence.Count(e => e.Verdict == Verdict.NotMet));
    }
}

/// <summary>Where students stand in the school's stages.</summary>
internal static class Standing
{
    /// <summary>The school's own stages, or those of the starter catalogue until it has some.</summary>
    public static async Task<SchoolStages> StagesAsync(SchoolDrillsDbContext db, CancellationToken ct)
    {
        if (await db.Schools.AsNoTracking().Select(s => s.Stages).SingleAsync(ct) is { } own)
            return new(own);
        var slugs = await db.DrillVersions.Select(d => d.Slug).Distinct().ToListAsync(ct);
        return new(StarterStages.Of(slugs.ToHashSet()), Starter: true);
    }

    /// <summary>The place of every active student whom the person may see, by name.</summary>
    public static async Task<IReadOnlyList<(Guid Id, string Name, StagePlace Place)>> PlacesAsync(
        SchoolDrillsDbContext db,
        CurrentPerson me,
        Concluded<StagePlace> concluded,
        IReadOnlyList<TrainingStage> stages,
        CancellationToken ct
    )
    {
        var people = await db
            .People.AsNoTracking()
            .Where(p => p.Active && p.Roles.Contains(Roles.Student))
            .OrderBy(p => p.DisplayName)
            .ThenBy(p => p.Id)
            .Select(p => new { p.Id, p.DisplayName })
            .ToListAsync(ct);
        var seen = people.FindAll(p => me.MaySee(p.Id));
        var states = await db.StudentSummaries.AsNoTracking().VisibleTo(me).ToDictionaryAsync(s => s.StudentId, s => s.State, ct);
        var places = await PlacesAsync(db, seen.ToDictionary(p => p.Id, p => states.GetValueOrDefault(p.Id)), concluded, stages, ct);
        return seen.ConvertAll(p => (p.Id, p.DisplayName, places[p.Id]));
    }

    /// <summary>The place of each of these students.</summary>
    /// <param name="states">As <see cref="StudentSummary.State"/>; empty for who has flown nothing.</param>
    public static Task<IReadOnlyDictionary<Guid, StagePlace>> PlacesAsync(
        SchoolDrillsDbContext db,
        IReadOnlyDictionary<Guid, Guid> states,
        Concluded<StagePlace> concluded,
        IReadOnlyList<TrainingStage> stages,
        CancellationToken ct
    ) =>
        concluded.OfAsync(
            states,
            JsonSerializer.Serialize(stages, WireJson.Default.IReadOnlyListTrainingStage),
            async students => (await OfStudentsAsync(db, students, stages, ct)).ToDictionary(s => s.Key, s => StagePlace.Of(s.Value))
        );

    /// <summary>Where each of these students stands, with the attempts that say so.</summary>
    public static async Task<IReadOnlyDictionary<Guid, StageReadiness>> OfStudentsAsync(
        SchoolDrillsDbContext db,
        List<Guid> students,
        IReadOnlyList<TrainingStage> stages,
        CancellationToken ct
    )
    {
        var attempts = (await NewestAsync(db, students, stages, ct)).ToLookup(a => a.StudentId, a => a.Attempt);
        return students.ToDictionary(id => id, id => StageReadiness.Of(stages, attempts[id]));
    }

    /// <summary>
    /// The newest attempts at each drill that a stage names, as many as any stage counts; along an index, whatever was flown before.
    /// </summary>
    private static async Task<IEnumerable<(Guid StudentId, StageAttempt Attempt)>> NewestAsync(
        SchoolDrillsDbContext db,
        List<Guid> students,
        IReadOnlyList<TrainingStage> stages,
        CancellationToken ct
    )
    {
        var most = stages.SelectMany(s => s.Drills).GroupBy(d => d.DrillSlug).ToDictionary(g => g.Key, g => g.Max(d => d.Newest));
        var (slugs, counts) = (most.Keys.ToList(), most.Values.ToList());
        var rows = await db
            .Database.SqlQuery<Newest>(
                $"""
                select s.id as "StudentId", n.id as "AttemptId", d.slug as "DrillSlug", n.flown_at_utc as "FlownAtUtc",
                  n.verdict as "Verdict",
                  n.graded_at_utc is not null as "Graded"
                from unnest({students}) as s (id)
                cross join (
                  select v.id, v.slug, w.newest from unnest({slugs}, {counts}) as w (slug, newest)
                  join drill_versions v on v.slug = w.slug) d
                cross join lateral (
                  select a.id, a.flown_at_utc, a.verdict, a.graded_at_utc from attempts a
                  where a.student_id = s.id and a.drill_version_id = d.id and a.verdict is not null
                  order by a.flown_at_utc desc, a.id desc limit d.newest) n
                """
            )
            .ToListAsync(ct);
        // As many of each version were asked for; the newest of all versions count.
        return rows.GroupBy(r => (r.StudentId, r.DrillSlug))
            .SelectMany(g => g.OrderByDescending(r => r.FlownAtUtc).ThenByDescending(r => r.AttemptId).Take(most[g.Key.DrillSlug]))
            .Select(r =>
                (r.StudentId, new StageAttempt(r.AttemptId, r.DrillSlug, r.FlownAtUtc, WordColumn.Parse<Verdict>(r.Verdict), r.Graded))
            );
    }

    private sealed record Newest(Guid StudentId, Guid AttemptId, string DrillSlug, DateTimeOffset FlownAtUtc, string Verdict, bool Graded);
}
