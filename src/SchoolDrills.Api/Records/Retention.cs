using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.People;
using SchoolDrills.Api.Schools;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Records;

/// <summary>
/// Works out for each person how long the record must be kept. The time runs from the last training, or from leaving where that is later.
/// </summary>
internal static class Retention
{
    public static async Task<RecordsOverview> OverviewAsync(SchoolDrillsDbContext db, DateTimeOffset now, CancellationToken ct)
    {
        var school = await db.Schools.AsNoTracking().SingleAsync(ct);
        var people = await KeptAsync(db, school, db.People, now, ct);
        return new RecordsOverview(
            new RecordSettings(school.InstructorsSeeOwnStudentsOnly, school.RetentionRules, school.RetentionOwnYears),
            RetentionRules.All,
            YearsOf(school),
            people
        );
    }

    /// <summary>One person's; he is there and not erased.</summary>
    public static async Task<KeptPerson> OfAsync(SchoolDrillsDbContext db, Guid personId, DateTimeOffset now, CancellationToken ct) =>
        (await KeptAsync(db, await db.Schools.AsNoTracking().SingleAsync(ct), db.People.Where(p => p.Id == personId), now, ct)).Single();

    private static int YearsOf(School school) => RetentionRules.Years(school.RetentionRules, school.RetentionOwnYears);

    private static async Task<IReadOnlyList<KeptPerson>> KeptAsync(
        SchoolDrillsDbContext db,
        School school,
        IQueryable<Person> whose,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var years = YearsOf(school);
        var people = await whose
            .AsNoTracking()
            .Where(p => p.ErasedAtUtc == null)
            .OrderBy(p => p.DisplayName)
            .Select(p => new
            {
                p.Id,
                p.DisplayName,
                p.Active,
                p.LegalHold,
                p.HoldReason,
                p.LeftAtUtc,
                // Every attempt is in one of the two: those that were scored are many, and their newest is known.
                Scored = db.StudentSummaries.Where(s => s.StudentId == p.Id).Select(s => s.LastFlownAtUtc).FirstOrDefault(),
                Unscored = db
                    .Attempts.Where(a => a.StudentId == p.Id && (a.Verdict == null || a.FlownAtUtc == null))
                    .Max(a => (DateTimeOffset?)a.PlacedAtUtc),
                Noted = db.FlightLogs.Where(l => l.StudentId == p.Id).Max(l => (DateTimeOffset?)(l.StartedAtUtc ?? l.ReceivedAtUtc)),
                Graded = db
                    .Grades.Where(g => g.InstructorId == p.Id)
                    .OrderByDescending(g => g.SavedAtUtc)
                    .Select(g => (DateTimeOffset?)g.SavedAtUtc)
                    .FirstOrDefault(),
            })
            .ToListAsync(ct);
        var today = school.Today(now);
        return people.ConvertAll(p =>
        {
            // Nothing was ever trained: leaving alone makes no record that has to be kept.
            var trained = new[] { p.Scored, p.Unscored, p.Noted, p.Graded }.Max();
            var last = trained is null ? null : new[] { trained, p.LeftAtUtc }.Max();
            var lastOn = last is { } at ? school.DayOf(at) : (DateOnly?)null;
            var until = lastOn is { } day && years > 0 ? day.AddYears(years) : (DateOnly?)null;
            return new KeptPerson(
                p.Id,
                p.DisplayName,
                p.Active,
                lastOn,
                until,
                p.LegalHold,
                p.HoldReason,
                !p.Active && !p.LegalHold && (until is null || until < today)
            );
        });
    }
}
