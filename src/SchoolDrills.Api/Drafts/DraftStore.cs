using System.Globalization;
using System.Text.Json;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Drills;
using SchoolDrills.Contracts;
using SchoolDrills.Engine;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Api.Drafts;

/// <summary>Reads, keeps and compares drafts. Every save but one that changes nothing is a revision of its own.</summary>
internal static class DraftStore
{
    /// <summary>People who save at the very same moment; each round one of them gets through.</summary>
    private const int MostRounds = 20;

    public static Task<DrillVersion?> FindAsync(SchoolDrillsDbContext db, string slug, CancellationToken ct) =>
        db.DrillVersions.FirstOrDefaultAsync(d => d.Slug == slug && d.State == DrillState.Draft, ct);

    /// <summary>A template as it was sent, or why it is none.</summary>
    /// <param name="unfinished">Whatever keeps it from being flown may stay.</param>
    public static async Task<(DrillTemplate? Template, ProblemHttpResult? Problem)> ReadAsync(
        HttpRequest request,
        SchoolDrillsDbContext db,
        bool unfinished,
        CancellationToken ct
    )
    {
        using var body = new MemoryStream();
        await request.Body.CopyToAsync(body, ct);
        body.Position = 0;
        var (template, problems) = TemplateJson.Read(body);
        if (template is null)
            return (null, Problems.Unprocessable("template", problems[0], problems));
        if (TemplateProblems.SlugProblem(template.Slug) is { } slugProblem)
            return (null, Problems.Unprocessable("template", slugProblem, [slugProblem]));
        if (unfinished)
            return (template, null);
        if (TemplateProblems.Of(template) is [var first, ..] reasons)
            return (null, Problems.Unprocessable("template", first, reasons));
        return await db.Standards.AnyAsync(s => s.Slug == template.StandardSlug && s.RetiredAtUtc == null, ct)
            ? (template, null)
            : (null, Problems.Unprocessable("standard", NoStandard(template)));
    }

    /// <summary>What keeps a draft from being published.</summary>
    public static async Task<IReadOnlyList<string>> ProblemsAsync(DrillTemplate template, SchoolDrillsDbContext db, CancellationToken ct)
    {
        var problems = TemplateProblems.Of(template);
        return await db.Standards.AnyAsync(s => s.Slug == template.StandardSlug && s.RetiredAtUtc == null, ct)
            ? problems
            : [.. problems, NoStandard(template)];
    }

    public static async Task<DrillDraft> ViewAsync(DrillVersion draft, SchoolDrillsDbContext db, CancellationToken ct) =>
        new(
            draft.Template,
            draft.Revision,
            draft.SavedAtUtc,
            await NameAsync(draft.SavedById, db, ct),
            await ProblemsAsync(draft.Template, db, ct),
            draft.BasedOnVersion
        );

    /// <summary>Saves a draft, or says why another one stands there now.</summary>
    /// <param name="startedFrom">The revision the editor started from, 0 where there was none; null to save over whatever is there.</param>
    public static async Task<(DrillVersion? Draft, ProblemHttpResult? Problem)> SaveAsync(
        DrillTemplate template,
        int? startedFrom,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        template = template with { Version = 0 };
        for (var round = 1; ; round++)
        {
            var draft = await FindAsync(db, template.Slug, ct);
            if (startedFrom is { } revision && revision != (draft?.Revision ?? 0))
                return (null, await ChangedAsync(template.Slug, draft, db, ct));
            if (draft is not null && Json(draft.Template) == Json(template))
                return (draft, null);
            if (draft is null)
                db.DrillVersions.Add(draft = await NewAsync(template, me, db, clock, ct));
            else
                Replace(draft, template, me, db, clock);
            try
            {
                await db.SaveChangesAsync(ct);
                return (draft, null);
            }
            catch (DbUpdateException e) when (IsRace(e) && round < MostRounds)
            {
                db.ChangeTracker.Clear();
            }
        }
    }

    /// <summary>Another program or person was faster by a moment.</summary>
    public static bool IsRace(DbUpdateException e) =>
        e is DbUpdateConcurrencyException || e.InnerException is PostgresException { SqlState: PostgresErrorCodes.UniqueViolation };

    /// <summary>412, with who saved, published or discarded what the editor had not seen.</summary>
    public static async Task<ProblemHttpResult> ChangedAsync(
        string slug,
        DrillVersion? draft,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (draft is not null)
        {
            return Problems.Changed(
                ApiProblemException.DraftChanged,
                $"{await WhoAndWhenAsync(draft.SavedById, "saved this draft", draft.SavedAtUtc)}: load it, put in what you changed, "
                    + "then save again."
            );
        }

        var published = await db
            .DrillVersions.AsNoTracking()
            .Where(d => d.Slug == slug && d.Version > 0)
            .OrderByDescending(d => d.Version)
            .FirstOrDefaultAsync(ct);
        var dropped = await db.Set<DraftRevision>()
            .AsNoTracking()
            .Where(r => r.Slug == slug && r.Discarded)
            .OrderByDescending(r => r.ReplacedAtUtc)
            .FirstOrDefaultAsync(ct);
        var how =
            dropped is not null && !(published?.SavedAtUtc > dropped.ReplacedAtUtc)
                ? await WhoAndWhenAsync(dropped.ReplacedById, "discarded this draft", dropped.ReplacedAtUtc)
            : published is not null
                ? await WhoAndWhenAsync(published.SavedById, $"published this drill's version {published.Version}", published.SavedAtUtc)
            : "This draft is gone";
        return Problems.Changed(ApiProblemException.DraftChanged, $"{how}: look at what is there now, then save as a new draft.");

        async Task<string> WhoAndWhenAsync(Guid? who, string did, DateTimeOffset at)
        {
            var school = await db.Schools.AsNoTracking().SingleAsync(ct);
            var day = school.DayOf(at).ToString("d MMMM", CultureInfo.InvariantCulture);
            var name = await NameAsync(who, db, ct);
            return $"{(name.Length == 0 ? "Somebody" : name)} {did} on {day} at {school.Clock(at)}";
        }
    }

    /// <summary>Empty where nobody remembers.</summary>
    private static async Task<string> NameAsync(Guid? personId, SchoolDrillsDbContext db, CancellationToken ct) =>
        personId is null ? "" : await db.People.Where(p => p.Id == personId).Select(p => p.DisplayName).FirstOrDefaultAsync(ct) ?? "";

    private static async Task<DrillVersion> NewAsync(
        DrillTemplate template,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var slug = template.Slug;
        // A number is not given twice, or the editor of a draft that is gone would be taken for that of the new one.
        var last = Math.Max(
            await db.DrillVersions.Where(d => d.Slug == slug).MaxAsync(d => (int?)d.Revision, ct) ?? 0,
            await db.Set<DraftRevision>().Where(r => r.Slug == slug).MaxAsync(r => (int?)r.Revision, ct) ?? 0
        );
        return new DrillVersion
        {
            SchoolId = me.SchoolId,
            Slug = slug,
            Version = 0,
            State = DrillState.Draft,
            Template = template,
            SavedAtUtc = clock.GetUtcNow(),
            SavedById = me.Id,
            Revision = last + 1,
            BasedOnVersion = await db.DrillVersions.Where(d => d.Slug == slug).MaxAsync(d => (int?)d.Version, ct) ?? 0,
        };
    }

    private static void Replace(DrillVersion draft, DrillTemplate template, CurrentPerson me, SchoolDrillsDbContext db, TimeProvider clock)
    {
        var now = clock.GetUtcNow();
        db.Add(DraftRevision.Of(draft, me.Id, now, discarded: false));
        draft.Template = template;
        draft.SavedAtUtc = now;
        draft.SavedById = me.Id;
        draft.Revision++;
    }

    private static string Json(DrillTemplate template) => JsonSerializer.Serialize(template, EngineJson.Default.DrillTemplate);

    private static string NoStandard(DrillTemplate template) =>
        $"The school has no tolerance standard {template.StandardSlug}, or has retired it.";
}
