using Hangfire;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Data;

namespace SchoolDrills.Api.Drafts;

/// <summary>Deletes drafts that were saved over or discarded, once their time is over or a drill has too many of them.</summary>
internal sealed class DraftSweep(EachSchool schools, TimeProvider clock)
{
    public const string Name = "draft-sweep";

    [DisableConcurrentExecution(60)]
    public async Task RunAsync(CancellationToken ct)
    {
        var before = clock.GetUtcNow() - DraftRevision.Life;
        await schools.RunAsync(
            (_, db) =>
                db.Database.ExecuteSqlAsync(
                    $"""
                    delete from drill_draft_revisions r where r.replaced_at_utc < {before} or r.id in (
                      select n.id from (select id, row_number() over (partition by slug order by revision desc) as place
                        from drill_draft_revisions) n
                      where n.place > {DraftRevision.Most})
                    """,
                    ct
                ),
            ct
        );
    }
}
