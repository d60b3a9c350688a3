using System.IO.Compression;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Drills;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Setup;

/// <summary>How far a new school has come, told by its data, and a recording to try.</summary>
internal static class StartEndpoints
{
    private const int MostCounted = 1_000;

    /// <summary>Flown for the demo school, by an invented pilot.</summary>
    private const string Sample = $"demo/2026-04-08-{SchoolStart.SampleDrill}.gpx.gz";

    public static void MapStart(this RouteGroupBuilder api)
    {
        api.MapGet("/school/start", GetAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("How far a new school has come towards its first graded drill");
        api.MapPut("/school/start", PutAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("Skips steps of the guide for a new school, or puts it away");
        api.MapGet("/school/sample-recording", Recording)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary("A recording to try: a GPX of the drill Box with circles");
    }

    private static async Task<Ok<SchoolStart>> GetAsync(SchoolDrillsDbContext db, CancellationToken ct) =>
        TypedResults.Ok(await StartAsync(db, ct));

    private static async Task<Results<Ok<SchoolStart>, ProblemHttpResult>> PutAsync(
        SaveSchoolStart sent,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (sent.Skipped?.FirstOrDefault(s => !StartSteps.All.Contains(s)) is { } unknown)
            return Problems.Unprocessable("start", $"'{unknown}' is not a step: the steps are {string.Join(", ", StartSteps.All)}.");
        var school = await db.Schools.SingleAsync(ct);
        school.StartSkipped = sent.Skipped is { } skipped ? [.. skipped.Distinct()] : school.StartSkipped;
        school.StartDismissed = sent.Dismissed ?? school.StartDismissed;
        await db.SaveChangesAsync(ct);
        return TypedResults.Ok(await StartAsync(db, ct));
    }

    private static FileStreamHttpResult Recording() =>
        TypedResults.Stream(
            new GZipStream(typeof(StartEndpoints).Assembly.GetManifestResourceStream(Sample)!, CompressionMode.Decompress),
            "application/gpx+xml",
            $"sample-{SchoolStart.SampleDrill}.gpx"
        );

    private static async Task<SchoolStart> StartAsync(SchoolDrillsDbContext db, CancellationToken ct)
    {
        var facts = await db
            .Schools.AsNoTracking()
            .Select(s => new
            {
                s.StartSkipped,
                s.StartDismissed,
                Tried = s.RecordingTriedAtUtc != null,
                Settled = db.AuditEntries.Any(e => e.Action == "settings-changed"),
                Students = db.People.Count(p => p.Active && p.Roles.Contains(Roles.Student)),
                Drills = db.DrillVersions.Where(d => d.State == DrillState.Published).Select(d => d.Slug).Distinct().Count(),
                HasSampleDrill = db.DrillVersions.Any(d => d.State == DrillState.Published && d.Slug == SchoolStart.SampleDrill),
                // As many as a guide has use for: a school may have given work for years.
                Assignments = db.Assignments.OrderBy(a => a.SchoolId).ThenBy(a => a.DueOn).Take(MostCounted).Count(),
                // A school that has flown needs nobody to show it how.
                Flown = db.Attempts.Any(),
            })
            .SingleAsync(ct);
        return new SchoolStart(
            [
                Step(StartSteps.School, facts.Settled || facts.Flown),
                Step(StartSteps.People, facts.Students > 0, facts.Students),
                Step(StartSteps.Drills, facts.Drills > 0, facts.Drills),
                Step(StartSteps.Assignment, facts.Assignments > 0, facts.Assignments),
                Step(StartSteps.Recording, facts.Tried || facts.Flown),
            ],
            facts.StartDismissed,
            facts.HasSampleDrill
        );

        StartStep Step(string slug, bool done, int count = 0) => new(slug, done, !done && facts.StartSkipped.Contains(slug), count);
    }
}
