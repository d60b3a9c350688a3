using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace SchoolDrills.Api.Data;

/// <summary>Runs a step of a job in one school after another, each in a scope of its own: a scope enters one school.</summary>
internal sealed class EachSchool(IServiceScopeFactory scopes)
{
    /// <summary>Every school there is.</summary>
    public async Task RunAsync(Func<Guid, SchoolDrillsDbContext, Task> step, CancellationToken ct)
    {
        List<Guid> schools;
        await using (var all = scopes.CreateAsyncScope())
        {
            all.ServiceProvider.GetRequiredService<SchoolScope>().Enter(Viewer.Job());
            var db = all.ServiceProvider.GetRequiredService<SchoolDrillsDbContext>();
            schools = await db.Database.SqlQuery<Guid>($"select id as \"Value\" from lookup.school_ids()").ToListAsync(ct);
        }

        foreach (var schoolId in schools)
            await InAsync(schoolId, db => step(schoolId, db));
    }

    /// <summary>One school.</summary>
    public async Task InAsync(Guid schoolId, Func<SchoolDrillsDbContext, Task> step)
    {
        await using var school = scopes.CreateAsyncScope();
        school.ServiceProvider.GetRequiredService<SchoolScope>().Enter(Viewer.Job(schoolId));
        await step(school.ServiceProvider.GetRequiredService<SchoolDrillsDbContext>());
    }
}
