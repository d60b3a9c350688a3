using SchoolDrills.Contracts;

namespace SchoolDrills.Web.Drills;

/// <summary>Near-twins: drills that are steps or variants of one another, the one to begin with first.</summary>
public static class DrillFamilies
{
    /// <summary>
    /// By their slugs: those with the same first word (<c>teardrop-10</c>, <c>teardrop-20</c>), and those whose slug ends with
    /// another's (<c>half-rate-timed-turns</c>, <c>timed-turns</c>).
    /// </summary>
    public static IReadOnlyList<IReadOnlyList<DrillSummary>> Of(IReadOnlyList<DrillSummary> drills)
    {
        // Of two that a slug ends with, the longer says more.
        var roots = drills.ToDictionary(
            d => d,
            d =>
                drills.Where(other => d.Slug.EndsWith("-" + other.Slug, StringComparison.Ordinal)).MaxBy(other => other.Slug.Length)?.Slug
                ?? d.Slug
        );
        return
        [
            .. drills
                .GroupBy(d => roots[d].Split('-')[0], StringComparer.Ordinal)
                .Select(g => (IReadOnlyList<DrillSummary>)[.. InOrder(g)])
                .OrderBy(f => f[0].Level)
                .ThenBy(f => f[0].Title, StringComparer.Ordinal),
        ];
    }

    // What cannot be flown yet leads nothing; of equally hard ones the plain drill, whose slug is shortest, leads its variants.
    private static IOrderedEnumerable<DrillSummary> InOrder(IEnumerable<DrillSummary> drills) =>
        drills
            .OrderBy(d => d.State != "published")
            .ThenBy(d => d.Level)
            .ThenBy(d => d.Slug.Length)
            .ThenBy(d => d.DurationS)
            .ThenBy(d => d.Title, StringComparer.Ordinal);
}
