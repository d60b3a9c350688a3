using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Api.Drills;

/// <summary>Reading the catalogue. Students see what is published; instructors also what was retired; who may draft, also drafts.</summary>
internal static class DrillEndpoints
{
    public static void MapDrills(this RouteGroupBuilder api)
    {
        var drills = api.MapGroup("/drills").RequireAuthorization(Policies.SignedIn);
        drills.MapGet("", ListAsync).WithSummary("The catalogue, newest version of each drill");
        drills.MapGet("/{slug}", GetAsync).WithSummary("A drill's whole template; the newest published version unless one is named");
        drills
            .MapGet("/{slug}/timeline", TimelineAsync)
            .WithSummary("A drill by the clock for an entry: segments, gates, cues, checks, load tasks");
        drills.MapGet("/{slug}/picture", PictureAsync).WithSummary("A drill's path over still air, for drawing it");
    }

    /// <summary>The newest published version of a drill, or the one named; null where there is none that this person may see.</summary>
    public static Task<DrillVersion?> FindAsync(
        SchoolDrillsDbContext db,
        CurrentPerson me,
        string slug,
        int? version,
        CancellationToken ct
    ) =>
        db
            .DrillVersions.AsNoTracking()
            .Where(d =>
                d.Slug == slug
                && (version == null ? d.State == DrillState.Published : d.Version == version)
                && (d.State != DrillState.Draft || me.IsChief || me.IsStaff && db.Schools.Any(s => s.InstructorsDraft))
            )
            .OrderByDescending(d => d.Version)
            .FirstOrDefaultAsync(ct);

    /// <summary>Who is to answer load tasks does not read them beforehand.</summary>
    public static DrillTemplate Shown(DrillTemplate template, CurrentPerson me) => me.IsStaff ? template : template.WithoutQuestions();

    private static DrillTimeline Shown(DrillTimeline timeline, CurrentPerson me) => me.IsStaff ? timeline : timeline.WithoutQuestions();

    /// <summary>A line of the catalogue; of a draft that cannot be flown, without what only its timeline says.</summary>
    public static DrillSummary Summary(DrillVersion drill)
    {
        if (drill.State == DrillState.Draft && TemplateProblems.Of(drill.Template) is { Count: > 0 and var problems })
        {
            var (title, purpose) = (drill.Template.Title, drill.Template.Purpose);
            return new DrillSummary(drill.Slug, 0, title, purpose, 0, 0, 0, drill.State, drill.Template.StandardSlug)
            {
                Problems = problems,
            };
        }

        var timeline = DrillTimeline.Resolve(drill.Template, drill.Template.Entry);
        return new DrillSummary(
            drill.Slug,
            drill.Version,
            drill.Template.Title,
            drill.Template.Purpose,
            timeline.DurationS,
            timeline.Segments.Count,
            DrillLevel.Of(timeline).Level,
            drill.State,
            drill.Template.StandardSlug
        )
        {
            Kinds = [.. timeline.Segments.Select(s => s.Kind).Distinct()],
            LoadOnTop = timeline.Checks.Count + timeline.LoadTasks.Count > 0,
        };
    }

    private static async Task<Ok<IReadOnlyList<DrillSummary>>> ListAsync(CurrentPerson me, SchoolDrillsDbContext db, CancellationToken ct)
    {
        var versions = await db
            .DrillVersions.AsNoTracking()
            .Where(d =>
                d.State == DrillState.Published
                || (me.IsStaff && d.State == DrillState.Retired)
                || (d.State == DrillState.Draft && (me.IsChief || me.IsStaff && db.Schools.Any(s => s.InstructorsDraft)))
            )
            .ToListAsync(ct);
        // A draft stands beside what is published; of published and retired versions the newest tells.
        var shown = versions.GroupBy(d => (d.Slug, d.State == DrillState.Draft)).Select(g => Summary(g.MaxBy(d => d.Version)!));
        return TypedResults.Ok<IReadOnlyList<DrillSummary>>([
            .. shown.OrderBy(d => d.Level).ThenBy(d => d.DurationS).ThenBy(d => d.Title, StringComparer.Ordinal),
        ]);
    }

    private static async Task<Results<Ok<DrillTemplate>, ProblemHttpResult>> GetAsync(
        string slug,
        int? version,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    ) =>
        await FindAsync(db, me, slug, version, ct) is { } drill
            ? TypedResults.Ok(Shown(drill.Template with { Version = drill.Version }, me))
            : Problems.NotFound("drill");

    private static async Task<Results<Ok<DrillTimeline>, ProblemHttpResult>> TimelineAsync(
        string slug,
        [AsParameters] EntryQuery query,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (await FindAsync(db, me, slug, query.Version, ct) is not { } drill)
            return Problems.NotFound("drill");
        var entry = query.On(drill.Template);
        return TemplateProblems.Of(drill.Template, entry) is [var problem, ..]
            ? Problems.Unprocessable("entry", problem)
            : TypedResults.Ok(Shown(DrillTimeline.Resolve(drill.Template, entry), me));
    }

    private static async Task<Results<Ok<DrillPicture>, ProblemHttpResult>> PictureAsync(
        string slug,
        [AsParameters] EntryQuery query,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (await FindAsync(db, me, slug, query.Version, ct) is not { } drill)
            return Problems.NotFound("drill");
        var entry = query.On(drill.Template);
        if (TemplateProblems.Of(drill.Template, entry) is [var problem, ..])
            return Problems.Unprocessable("entry", problem);
        var timeline = DrillTimeline.Resolve(drill.Template, entry);
        var path = NominalPath.OverStillAir(timeline, entry, everyS: 2);
        return TypedResults.Ok(
            new DrillPicture(
                path.TimeS,
                Array.ConvertAll(path.EastM, Metre),
                Array.ConvertAll(path.NorthM, Metre),
                Array.ConvertAll(path.AltitudeFt, Metre),
                path.SegmentIndex
            )
        );

        static double Metre(double value) => Math.Round(value, 1);
    }

    /// <summary>Entry of a drill as asked in the address; what is not asked stays as the template has it.</summary>
    internal sealed record EntryQuery(
        int? Version,
        double? HeadingMagDeg,
        double? AltitudeFt,
        double? AirspeedKt,
        bool? Mirrored,
        bool? HalfRate
    )
    {
        public DrillEntry On(DrillTemplate template) =>
            template.Entry with
            {
                HeadingMagDeg =
                    HeadingMagDeg is { } heading && double.IsFinite(heading) ? Angles.NormalizeDeg(heading) : template.Entry.HeadingMagDeg,
                AltitudeFt = AltitudeFt ?? template.Entry.AltitudeFt,
                AirspeedKt = AirspeedKt ?? template.Entry.AirspeedKt,
                Mirrored = Mirrored ?? template.Entry.Mirrored,
                HalfRate = HalfRate ?? template.Entry.HalfRate,
            };
    }
}
