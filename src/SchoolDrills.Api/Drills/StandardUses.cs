using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Drills;

/// <summary>Editions of standards in their line, and what is judged by each.</summary>
internal static class StandardUses
{
    /// <summary>Published drills by the standard of their newest version.</summary>
    public static async Task<ILookup<string, DrillUse>> DrillsAsync(SchoolDrillsDbContext db, CancellationToken ct)
    {
        var published = await db.DrillVersions.AsNoTracking().Where(d => d.State == DrillState.Published).ToListAsync(ct);
        return published
            .GroupBy(d => d.Slug)
            .Select(g => g.MaxBy(d => d.Version)!)
            .OrderBy(d => d.Template.Title, StringComparer.Ordinal)
            .ToLookup(d => d.Template.StandardSlug, d => new DrillUse(d.Slug, d.Version, d.Template.Title));
    }

    public static async Task<IReadOnlyList<StandardEdition>> EditionsAsync(SchoolDrillsDbContext db, CancellationToken ct)
    {
        var rows = await db.Standards.AsNoTracking().OrderBy(s => s.Slug).ToListAsync(ct);
        var drills = await DrillsAsync(db, ct);
        var toFly = await db
            .Database.SqlQuery<Count>(
                $"""
                select coalesce(a.overrides ->> 'standardSlug', d.template ->> 'standardSlug') as "Slug", count(*)::integer as "Number"
                from assignments a join drill_versions d on d.id = a.drill_version_id
                where a.cancelled_at_utc is null and not a.flown
                group by 1
                """
            )
            .ToDictionaryAsync(c => c.Slug, c => c.Number, ct);
        var attempts = await db
            .DayTallies.Where(t => t.Dimension == "standard" && t.Day == DateOnly.MinValue)
            .ToDictionaryAsync(t => t.Key, t => t.Attempts, ct);
        var bySlug = rows.ToDictionary(r => r.Slug);
        return
        [
            .. rows.Select(row =>
            {
                var line = Line(row, bySlug);
                return new StandardEdition(
                    row.Standard,
                    line[^1].Slug,
                    line.Count,
                    rows.Find(r => r.Supersedes == row.Slug)?.Slug,
                    row.RetiredAtUtc,
                    [.. drills[row.Slug]],
                    toFly.GetValueOrDefault(row.Slug),
                    attempts.GetValueOrDefault(row.Slug)
                );
            }),
        ];
    }

    /// <summary>From an edition back to the first of its line.</summary>
    private static List<StandardRow> Line(StandardRow row, Dictionary<string, StandardRow> bySlug)
    {
        var line = new List<StandardRow> { row };
        while (line[^1].Supersedes is { } earlier && bySlug.TryGetValue(earlier, out var before) && !line.Contains(before))
            line.Add(before);
        return line;
    }

    private sealed record Count(string Slug, int Number);
}
