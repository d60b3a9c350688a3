using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Configuration;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Rescoring;

/// <summary>
/// The operator's command <c>rescore</c>: has what older engines scored in one school, or in all, scored anew by the host that runs on
/// the same database, or by the next one.
/// </summary>
public static class RescoreCommand
{
    public const string Name = "rescore";

    /// <param name="school">Name or id of the school; null for all.</param>
    /// <exception cref="StartupRefusedException">Something an operator has to put right.</exception>
    public static async Task RunAsync(IConfiguration configuration, string? school)
    {
        await using var database = await DatabaseHost.JoinAsync(configuration);
        List<Guid> ids;
        await using (var all = Open(database.Access, Viewer.Job()))
            ids = await all.Database.SqlQuery<Guid>($"select id as \"Value\" from lookup.school_ids()").ToListAsync();
        var found = 0;
        foreach (var id in ids)
        {
            await using var db = Open(database.Access, Viewer.Job(id));
            var name = await db.Schools.Select(s => s.Name).SingleAsync();
            if (school is not null && school != name && school != id.ToString())
                continue;
            found++;
            Console.WriteLine($"{name}: {await StartAsync(db, id)}");
        }

        if (found == 0 && school is not null)
            throw new StartupRefusedException($"There is no school {school} here: give its name as its pages show it, or its id.");
    }

    /// <returns>What was done, in one sentence.</returns>
    private static async Task<string> StartAsync(SchoolDrillsDbContext db, Guid schoolId)
    {
        var choice = new RescoringChoice();
        var chosen = await OlderWork.ChosenAsync(db, choice, default);
        if (chosen.Length == 0)
            return $"nothing to rescore; engine {AttemptScorer.EngineVersion} scored everything.";
        var run = new RescoringRow
        {
            SchoolId = schoolId,
            EngineVersion = AttemptScorer.EngineVersion,
            StartedAtUtc = DateTimeOffset.UtcNow,
            Choice = choice,
            Chosen = chosen.Length,
        };
        var entry = new AuditEntry
        {
            SchoolId = schoolId,
            AtUtc = run.StartedAtUtc,
            Action = "rescoring-started",
            Subject = "rescoring",
            SubjectId = run.Id,
            Detail = $"attempts: {chosen.Length}, by whoever looks after the server",
        };
        return await OlderWork.StartAsync(db, run, chosen, entry, default)
            ? $"{chosen.Length} to rescore; the host begins within a minute, or when it is started."
            : "a rescoring runs already.";
    }

    private static SchoolDrillsDbContext Open(DatabaseAccess access, Viewer viewer)
    {
        var scope = new SchoolScope();
        scope.Enter(viewer);
        return new SchoolDrillsDbContext(
            new DbContextOptionsBuilder<SchoolDrillsDbContext>()
                .UseNpgsql(access.Jobs)
                .AddInterceptors(new SchoolScopeInterceptor(scope, access))
                .Options
        );
    }
}
