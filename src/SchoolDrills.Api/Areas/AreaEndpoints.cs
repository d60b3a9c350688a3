using System.Globalization;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Planning;

namespace SchoolDrills.Api.Areas;

/// <summary>The school's practice areas: everybody there reads them, the chief adds them from GeoJSON and takes them out.</summary>
internal static class AreaEndpoints
{
    private const int MostAreas = 100,
        LongestName = 80;

    public static void MapAreas(this RouteGroupBuilder api)
    {
        var areas = api.MapGroup("/school/areas");
        areas.MapGet("", ListAsync).RequireAuthorization(Policies.SignedIn).WithSummary("The school's practice areas by name");
        areas
            .MapPost("", AddAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("Adds practice areas from GeoJSON: all of the file, or nothing of it");
        areas
            .MapDelete("/{id:guid}", RemoveAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("Takes a practice area out; plans made in it stay as they are");
    }

    private static async Task<Ok<IReadOnlyList<SchoolArea>>> ListAsync(SchoolDrillsDbContext db, CancellationToken ct) =>
        TypedResults.Ok<IReadOnlyList<SchoolArea>>(
            (await db.PracticeAreas.AsNoTracking().OrderBy(a => a.Name).ToListAsync(ct)).ConvertAll(a => a.Seen())
        );

    private static async Task<Results<Created<IReadOnlyList<SchoolArea>>, ProblemHttpResult>> AddAsync(
        AddAreas sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (sent.GeoJson.ValueKind == JsonValueKind.Undefined)
            return Problems.Unprocessable("areas", "Send the areas as geoJson: a Feature, a FeatureCollection or a Polygon.");
        var (areas, problems) = GeoJsonAreas.Read(sent.GeoJson);
        if (problems is [var first, ..])
            return Problems.Unprocessable("areas", first, problems);
        // Of two chiefs who add at once the second waits, and then finds the names of the first.
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        await db.Database.ExecuteSqlAsync($"select pg_advisory_xact_lock(hashtextextended({$"areas {me.SchoolId}"}, 0))", ct);
        var names = (await db.PracticeAreas.Select(a => a.Name).ToListAsync(ct)).ToHashSet(StringComparer.OrdinalIgnoreCase);
        if (names.Count + areas.Count > MostAreas)
            return Problems.Unprocessable("areas", $"The school would have {names.Count + areas.Count} areas: {MostAreas} are the most.");
        var made = new List<PracticeAreaRow>();
        foreach (var (area, number) in areas.Select((a, i) => (a, i + 1)))
        {
            var name = (areas.Count == 1 && !string.IsNullOrWhiteSpace(sent.Name) ? sent.Name : area.Name)?.Trim();
            if (Problem(name, area, sent, number, names) is { } problem)
                return Problems.Unprocessable("areas", problem);
            made.Add(
                new PracticeAreaRow
                {
                    SchoolId = me.SchoolId,
                    Name = name!,
                    FloorFt = (area.FloorFt ?? sent.FloorFt)!.Value,
                    CeilingFt = area.CeilingFt ?? sent.CeilingFt,
                    Corners = area.Corners,
                }
            );
        }

        db.PracticeAreas.AddRange(made);
        db.AuditEntries.AddRange(made.Select(a => AuditEntry.By(me, clock.GetUtcNow(), "area-added", "area", a.Id, Told(a))));
        await db.SaveChangesAsync(ct);
        await transaction.CommitAsync(ct);
        return TypedResults.Created<IReadOnlyList<SchoolArea>>("/api/v1/school/areas", made.ConvertAll(a => a.Seen()));
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> RemoveAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await db.PracticeAreas.FirstOrDefaultAsync(a => a.Id == id, ct) is not { } area)
            return Problems.NotFound("practice area");
        db.PracticeAreas.Remove(area);
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "area-removed", "area", id, Told(area)));
        await db.SaveChangesAsync(ct);
        return TypedResults.NoContent();
    }

    /// <summary>Why an area cannot be added, one sentence; null where it can. Its name is then taken.</summary>
    private static string? Problem(string? name, ReadArea area, AddAreas sent, int number, HashSet<string> names)
    {
        if (string.IsNullOrEmpty(name))
            return $"Area {number} of the file has no name: give one, or put a name among its properties.";
        if (name.Length > LongestName)
            return $"The name of area {number} is longer than {LongestName} characters.";
        if (!names.Add(name))
            return $"There is an area {name} already: take that one out first, or give this one another name.";
        if ((area.FloorFt ?? sent.FloorFt) is not { } floorFt)
            return $"{name} has no floor: give floorFt, the lowest indicated altitude to fly drills at.";
        if (floorFt is not (>= TemplateLimits.LowestAltitudeFt and <= TemplateLimits.HighestAltitudeFt))
            return $"The floor of {name} is no altitude in feet.";
        return
            (area.CeilingFt ?? sent.CeilingFt) is { } ceilingFt && !(ceilingFt > floorFt && ceilingFt <= TemplateLimits.HighestAltitudeFt)
            ? $"The ceiling of {name} must be above its floor."
            : null;
    }

    private static string Told(PracticeAreaRow area) =>
        string.Create(CultureInfo.InvariantCulture, $"{area.Name}, from {area.FloorFt:0} ft, {area.Corners.Count} corners");
}
