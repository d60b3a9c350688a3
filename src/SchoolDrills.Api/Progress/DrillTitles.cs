using Microsoft.EntityFrameworkCore;

namespace SchoolDrills.Api.Progress;

/// <summary>What the school calls its drills.</summary>
internal static class DrillTitles
{
    /// <summary>The title of each drill's newest version, by slug.</summary>
    public static async Task<IReadOnlyDictionary<string, string>> AllAsync(SchoolDrillsDbContext db, CancellationToken ct) =>
        (
            await db
                .Database.SqlQuery<Title>(
                    $"""
                    select distinct on (slug) slug as "Slug", template ->> 'title' as "Words" from drill_versions
                    order by slug, version desc
                    """
                )
                .ToListAsync(ct)
        ).ToDictionary(t => t.Slug, t => t.Words);

    private sealed record Title(string Slug, string Words);
}
