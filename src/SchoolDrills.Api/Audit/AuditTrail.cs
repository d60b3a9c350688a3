using System.Globalization;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using Microsoft.EntityFrameworkCore.Diagnostics;
using SchoolDrills.Api.Assignments;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.People;
using SchoolDrills.Api.Schools;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Audit;

/// <summary>
/// Completes each audit entry as it is saved: where the deed came from, and what it changed in the same save, before and after. So
/// an endpoint writes who did what to what, and cannot forget the rest.
/// </summary>
internal sealed class AuditTrail(SchoolScope scope) : SaveChangesInterceptor
{
    private const int LongestValue = 500;

    /// <summary>What is told of each kind of row. Secrets are not in it, nor what is told elsewhere (reports, plots, bytes).</summary>
    private static readonly Dictionary<Type, string[]> Told = new()
    {
        [typeof(Person)] =
        [
            nameof(Person.DisplayName),
            nameof(Person.Email),
            nameof(Person.Roles),
            nameof(Person.Active),
            nameof(Person.TwoFactorEnabled),
            nameof(Person.LegalHold),
            nameof(Person.HoldReason),
        ],
        [typeof(School)] =
        [
            nameof(School.Name),
            nameof(School.TimeZone),
            nameof(School.GradeScale),
            nameof(School.Grading),
            nameof(School.InstructorsSeeOwnStudentsOnly),
            nameof(School.RetentionRules),
            nameof(School.RetentionOwnYears),
        ],
        [typeof(Assignment)] = [nameof(Assignment.DueOn), nameof(Assignment.Notes), nameof(Assignment.CancelledAtUtc)],
        [typeof(Attempt)] = [nameof(Attempt.Status), nameof(Attempt.Verdict), nameof(Attempt.WithinShare), nameof(Attempt.LatestReportId)],
        [typeof(Grade)] =
        [
            nameof(Grade.Overall),
            nameof(Grade.Segments),
            nameof(Grade.Comment),
            nameof(Grade.AmendmentReason),
            nameof(Grade.SignedAtUtc),
        ],
        [typeof(DrillVersion)] = [nameof(DrillVersion.State), nameof(DrillVersion.Version), nameof(DrillVersion.Template)],
        [typeof(StandardRow)] = [nameof(StandardRow.Slug), nameof(StandardRow.Standard)],
    };

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
        NoteScore(db);
        foreach (
            var entry in db.ChangeTracker.Entries<AuditEntry>().Where(e => e.State == EntityState.Added).Select(e => e.Entity).ToList()
        )
        {
            (entry.Ip, entry.UserAgent) = scope.From;
            if (entry.Changes.Count > 0)
                continue;
            entry.Changes =
            [
                .. db
                    .ChangeTracker.Entries()
                    .Where(e =>
                        e.State is EntityState.Added or EntityState.Modified or EntityState.Deleted
                        && Told.ContainsKey(e.Entity.GetType())
                        && SubjectOf(e.Entity) == entry.SubjectId
                    )
                    .SelectMany(e => Changes(db, e)),
            ];
        }
    }

    /// <summary>A score is the program's deed: nobody asks for it by an endpoint, so its entry is made here.</summary>
    private static void NoteScore(DbContext db)
    {
        foreach (
            var report in db.ChangeTracker.Entries<ScoreReportRow>().Where(e => e.State == EntityState.Added).Select(e => e.Entity).ToList()
        )
        {
            if (db.ChangeTracker.Entries<AuditEntry>().Any(e => e.State == EntityState.Added && e.Entity.SubjectId == report.AttemptId))
                continue;
            db.Add(
                new AuditEntry
                {
                    SchoolId = report.SchoolId,
                    AtUtc = report.ScoredAtUtc,
                    Action = "attempt-scored",
                    Subject = "attempt",
                    SubjectId = report.AttemptId,
                    Detail = $"engine {report.EngineVersion}",
                }
            );
        }
    }

    private static Guid SubjectOf(object row) =>
        row switch
        {
            Grade grade => grade.AttemptId,
            Person person => person.Id,
            School school => school.Id,
            Assignment assignment => assignment.Id,
            Attempt attempt => attempt.Id,
            DrillVersion drill => drill.Id,
            StandardRow standard => standard.Id,
            _ => Guid.Empty,
        };

    private static IEnumerable<AuditChange> Changes(DbContext db, EntityEntry row)
    {
        // An amendment is a further row: what it amends is the one before.
        var earlier = row is { Entity: Grade { Number: > 0 } amended, State: EntityState.Added }
            ? db
                .ChangeTracker.Entries<Grade>()
                .FirstOrDefault(g => g.Entity.AttemptId == amended.AttemptId && g.Entity.Number == amended.Number - 1)
            : null;
        foreach (var name in Told[row.Entity.GetType()])
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
        // Words and documents as they are stored.
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
