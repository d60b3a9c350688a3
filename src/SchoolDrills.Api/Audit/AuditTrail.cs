using System.Globalization;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using Microsoft.EntityFrameworkCore.Diagnostics;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Audit;

/// <summary>
/// Completes each audit entry as it is saved: where the request came from, and what changed in the same save, before and after. An
/// endpoint writes who did what to what, and cannot forget the rest.
/// </summary>
internal sealed class AuditTrail(SchoolScope scope) : SaveChangesInterceptor
{
    private const int LongestValue = 500;

    public override InterceptionResult<int> SavingChanges(DbContextEventData eventData, InterceptionResult<int> result)
    {
        Complete(eventData.Context!);
        return result;
    }

    public override ValueTask<InterceptionResult<int>> SavingChangesAsync(
        DbContextEventData eventData,
        InterceptionResult<int> result,
        CancellationToken cancellationToken = default
    )
    {
        Complete(eventData.Context!);
        return ValueTask.FromResult(result);
    }

    private void Complete(DbContext db)
    {
        AddSystemEntries(db);
        // Each look at the tracked rows compares all of them with what they were: one look, however many entries.
        var rows = db.ChangeTracker.Entries<IAudited>().ToList();
        var changed = rows.Where(r => r.State is EntityState.Added or EntityState.Modified or EntityState.Deleted)
            .ToLookup(r => r.Entity.AuditSubjectId);
        foreach (var entry in Added<AuditEntry>(db))
        {
            (entry.Ip, entry.UserAgent) = scope.From;
            if (entry.Changes.Count == 0)
                entry.Changes = [.. changed[entry.SubjectId].SelectMany(r => Changes(rows, r))];
        }
    }

    private static void AddSystemEntries(DbContext db)
    {
        foreach (var row in Added<IAuditedBySystem>(db))
        {
            if (!Added<AuditEntry>(db).Exists(e => e.SubjectId == row.AuditSubjectId))
                db.Add(row.ToAuditEntry());
        }
    }

    private static List<T> Added<T>(DbContext db)
        where T : class => [.. db.ChangeTracker.Entries<T>().Where(e => e.State == EntityState.Added).Select(e => e.Entity)];

    private static IEnumerable<AuditChange> Changes(List<EntityEntry<IAudited>> rows, EntityEntry<IAudited> row)
    {
        var earlier = row.State == EntityState.Added ? rows.Find(r => row.Entity.Amends(r.Entity)) : null;
        foreach (var name in row.Entity.AuditedProperties)
        {
            var property = row.Property(name);
            var before = row.State switch
            {
                EntityState.Added => earlier?.Property(name).CurrentValue,
                _ => property.OriginalValue,
            };
            var after = row.State == EntityState.Deleted ? null : property.CurrentValue;
            if (Text(property, before) is var was && Text(property, after) is var now && was != now)
                yield return new AuditChange(JsonNamingPolicy.CamelCase.ConvertName(name), was, now);
        }
    }

    private static string? Text(PropertyEntry property, object? value)
    {
        // Enums and documents as they are stored.
        if (value is not null && property.Metadata.GetTypeMapping().Converter is { } stored && stored.ProviderClrType == typeof(string))
            value = stored.ConvertToProvider(value);
        var text = value switch
        {
            null => null,
            string word => word,
            IEnumerable<string> words => string.Join(", ", words),
            DateTimeOffset instant => instant.UtcDateTime.ToString("yyyy-MM-dd HH:mm:ss'Z'", CultureInfo.InvariantCulture),
            IFormattable number => number.ToString(null, CultureInfo.InvariantCulture),
            bool flag => flag ? "yes" : "no",
            _ => value.ToString(),
        };
        return text is { Length: > LongestValue } ? text[..LongestValue] + "…" : text;
    }
}
