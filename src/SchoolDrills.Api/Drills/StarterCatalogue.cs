using Microsoft.EntityFrameworkCore;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Api.Drills;

/// <summary>What a fresh school receives.</summary>
internal static class StarterCatalogue
{
    /// <summary>
    /// Adds every drill of the engine's catalogue as published version 1, every tolerance standard and every aircraft profile, as far as
    /// the school does not have
    /// them. Saving is the caller's, who has entered the school.
    /// </summary>
    public static async Task AddCatalogueAsync(SchoolDrillsDbContext db, Guid schoolId, DateTimeOffset now, CancellationToken ct)
    {
        var drills = await db.DrillVersions.Select(d => d.Slug).ToListAsync(ct);
        db.DrillVersions.AddRange(
            Catalogue
                .Templates.ExceptBy(drills, t => t.Slug)
                .Select(template => new DrillVersion
                {
                    SchoolId = schoolId,
                    Slug = template.Slug,
                    Version = 1,
                    State = DrillState.Published,
                    Template = template with { Version = 1 },
                    SavedAtUtc = now,
                })
        );
        var standards = await db.Standards.Select(s => s.Slug).ToListAsync(ct);
        db.Standards.AddRange(Catalogue.Standards.ExceptBy(standards, s => s.Slug).Select(standard => StandardRow.Of(standard, schoolId)));
        var aircraft = await db.Aircraft.Select(a => a.Slug).ToListAsync(ct);
        db.Aircraft.AddRange(
            Catalogue
                .Aircraft.ExceptBy(aircraft, a => a.Slug)
                .Select(profile => new AircraftRow
                {
                    SchoolId = schoolId,
                    Slug = profile.Slug,
                    Profile = profile,
                })
        );
    }
}
