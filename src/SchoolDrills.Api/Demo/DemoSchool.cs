using System.IO.Compression;
using System.Linq.Expressions;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using SchoolDrills.Api.Assignments;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.People;
using SchoolDrills.Api.Schools;
using SchoolDrills.Api.Uploads;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Demo;

/// <summary>
/// Seeds the demo school. Its people can sign in before the server listens; recordings are then uploaded and, once scored, graded.
/// What is already there is left alone, so a start that was cut short is finished by the next.
/// </summary>
internal sealed class DemoSchool(IServiceScopeFactory scopes, TimeProvider clock, ILogger<DemoSchool> log) : BackgroundService
{
    private static readonly TimeSpan Glance = TimeSpan.FromSeconds(1),
        Patience = TimeSpan.FromMinutes(15);

    /// <summary>There is nobody yet in whose name the school could be made.</summary>
    private static Viewer Founding => Viewer.SigningIn(DemoPeople.SchoolId);

    private static Viewer Chief => Staff("chief");

    private static Viewer Staff(string key) => Viewer.Staff(DemoPeople.SchoolId, DemoPeople.IdOf(key), ownStudents: null);

    private static Viewer InstructorOf(DemoFlight flight) => Staff(flight.Instructor);

    private static Viewer StudentOf(DemoFlight flight) => Viewer.Student(DemoPeople.SchoolId, DemoPeople.IdOf(flight.Student));

    public override async Task StartAsync(CancellationToken cancellationToken)
    {
        await InSchoolAsync(Founding, services => FoundAsync(services, cancellationToken));
        await InSchoolAsync(Chief, services => AssignAsync(services, cancellationToken));
        await base.StartAsync(cancellationToken);
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            foreach (var flight in DemoWork.Flights)
                await InSchoolAsync(StudentOf(flight), services => UploadAsync(services, flight, stoppingToken));
            var giveUpAt = clock.GetUtcNow() + Patience;
            var waiting = DemoWork.Flights.ToList();
            while (true)
            {
                foreach (var flight in waiting.ToList())
                {
                    await InSchoolAsync(StudentOf(flight), services => AssessAsync(services, flight, stoppingToken));
                    if (await InSchoolAsync(InstructorOf(flight), services => GradeAsync(services, flight, stoppingToken)))
                    {
                        await InSchoolAsync(Chief, services => LookAgainAsync(services, flight, stoppingToken));
                        await InSchoolAsync(StudentOf(flight), services => AcknowledgeAsync(services, flight, stoppingToken));
                        waiting.Remove(flight);
                    }
                }

                if (waiting.Count == 0 || clock.GetUtcNow() >= giveUpAt)
                    break;
                await Task.Delay(Glance, clock, stoppingToken);
            }
        }
        catch (Exception e) when (e is not OperationCanceledException)
        {
            log.LogError(e, "The demo school is not complete; the next start goes on with it");
        }
    }

    /// <summary>School, catalogue and people, all or none; hosts that start together take turns.</summary>
    private async Task<bool> FoundAsync(IServiceProvider services, CancellationToken ct)
    {
        var db = services.GetRequiredService<AccountsDbContext>();
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        await TakeTurnAsync(db, ct);
        if (!await db.Schools.AnyAsync(ct))
        {
            db.Schools.Add(
                new School
                {
                    Id = DemoPeople.SchoolId,
                    Name = DemoPeople.SchoolName,
                    TimeZone = DemoPeople.TimeZone,
                }
            );
        }

        await StarterCatalogue.AddCatalogueAsync(db, DemoPeople.SchoolId, clock.GetUtcNow(), ct);
        await AddPeopleAsync(services.GetRequiredService<Passwords>(), db, ct);
        await db.SaveChangesAsync(ct);
        await transaction.CommitAsync(ct);
        return true;
    }

    private async Task<bool> AssignAsync(IServiceProvider services, CancellationToken ct)
    {
        var db = services.GetRequiredService<SchoolDrillsDbContext>();
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        await TakeTurnAsync(db, ct);
        var now = clock.GetUtcNow();
        await AddAssignmentsAsync(db, (await db.Schools.AsNoTracking().SingleAsync(ct)).Today(now), now, ct);
        await DemoAreas.AddAsync(db, ct);
        await db.SaveChangesAsync(ct);
        await transaction.CommitAsync(ct);
        return true;
    }

    private static Task<int> TakeTurnAsync(SchoolDrillsDbContext db, CancellationToken ct) =>
        db.Database.ExecuteSqlAsync($"select pg_advisory_xact_lock(hashtext('demo school'))", ct);

    private static async Task AddPeopleAsync(Passwords passwords, AccountsDbContext db, CancellationToken ct)
    {
        var known = await db.People.Select(p => p.Id).ToListAsync(ct);
        foreach (var one in DemoPeople.All.ExceptBy(known, p => p.Id))
        {
            var person = new Person
            {
                Id = one.Id,
                SchoolId = DemoPeople.SchoolId,
                DisplayName = one.DisplayName,
                Roles = one.Roles,
                Email = one.Email,
            };
            var credentials = Credentials.None(person);
            passwords.Choose(person, credentials, DemoPeople.Password);
            db.People.Add(person);
            db.Credentials.Add(credentials);
        }
    }

    private static async Task AddAssignmentsAsync(SchoolDrillsDbContext db, DateOnly today, DateTimeOffset now, CancellationToken ct)
    {
        var drills = await db.DrillVersions.Where(d => d.Version == 1).ToDictionaryAsync(d => d.Slug, d => d.Id, ct);
        var known = (await db.Assignments.Select(a => a.Id).ToListAsync(ct)).ToHashSet();
        var calendar = await CalendarAsync(db, ct) ?? DemoCalendar.From(today);
        foreach (var flight in DemoWork.Flights.Where(f => !known.Contains(f.AssignmentId)))
        {
            db.Assignments.Add(
                new Assignment
                {
                    Id = flight.AssignmentId,
                    SchoolId = DemoPeople.SchoolId,
                    StudentId = DemoPeople.IdOf(flight.Student),
                    DrillVersionId = drills[flight.Drill],
                    AssignedById = DemoPeople.IdOf(flight.Instructor),
                    AssignedAtUtc = new DateTimeOffset(calendar.Of(flight).AddDays(-6), TimeOnly.MinValue, TimeSpan.Zero),
                    DueOn = calendar.DueOn(flight),
                }
            );
        }

        foreach (var task in DemoWork.Tasks.Where(t => !known.Contains(t.AssignmentId)))
        {
            db.Assignments.Add(
                new Assignment
                {
                    Id = task.AssignmentId,
                    SchoolId = DemoPeople.SchoolId,
                    StudentId = DemoPeople.IdOf(task.Student),
                    DrillVersionId = drills[task.Drill],
                    AssignedById = DemoPeople.IdOf(task.Instructor),
                    AssignedAtUtc = now.AddDays(Math.Min(0, task.DueInDays) - 4),
                    DueOn = today.AddDays(task.DueInDays),
                    Notes = task.Notes,
                    CancelledAtUtc = task.Cancelled ? now : null,
                }
            );
        }
    }

    /// <summary>The calendar the school was made with; null before it has a flight.</summary>
    private static async Task<DemoCalendar?> CalendarAsync(SchoolDrillsDbContext db, CancellationToken ct)
    {
        var flights = DemoWork.Flights.ToDictionary(f => f.AssignmentId);
        var made = await db
            .Assignments.Where(a => flights.Keys.Contains(a.Id) && a.DueOn != null)
            .Select(a => new { a.Id, a.DueOn })
            .FirstOrDefaultAsync(ct);
        return made is null ? null : DemoCalendar.From(flights[made.Id], made.DueOn!.Value);
    }

    private static async Task<bool> UploadAsync(IServiceProvider services, DemoFlight flight, CancellationToken ct)
    {
        var db = services.GetRequiredService<SchoolDrillsDbContext>();
        if (await db.Attempts.AnyAsync(a => a.AssignmentId == flight.AssignmentId, ct))
            return false;
        var calendar = (await CalendarAsync(db, ct))!;
        var drill = await db.DrillVersions.SingleAsync(d => d.Slug == flight.Drill && d.Version == 1, ct);
        var studentId = DemoPeople.IdOf(flight.Student);
        var meta = new AttemptMeta
        {
            FlownOn = calendar.Of(flight),
            QnhHpa = flight.QnhHpa,
            LoadRatings = flight.Load,
            Events = DemoNotes.Of(flight, calendar),
            Aircraft = flight.Aircraft,
        };
        await services
            .GetRequiredService<AttemptIntake>()
            .AcceptAsync(
                UploadedTrack.Of(calendar.FileOf(flight), calendar.Moved(await RecordingAsync(flight.File, ct))),
                new IntakeFor(DemoPeople.SchoolId, drill, studentId, flight.AssignmentId, studentId, meta, flight.Aircraft),
                ct
            );
        return true;
    }

    private async Task<bool> AssessAsync(IServiceProvider services, DemoFlight flight, CancellationToken ct)
    {
        var db = services.GetRequiredService<SchoolDrillsDbContext>();
        if (!flight.SelfAssessed || await db.Attempts.FirstOrDefaultAsync(Scored(flight), ct) is not { } attempt)
            return false;
        if (await db.SelfAssessments.AnyAsync(s => s.AttemptId == attempt.Id, ct))
            return false;
        DemoGrading.Assess(db, attempt, clock.GetUtcNow());
        await db.SaveChangesAsync(ct);
        return true;
    }

    private static Expression<Func<Attempt, bool>> Scored(DemoFlight flight) =>
        a => a.AssignmentId == flight.AssignmentId && a.Status == AttemptStatus.Scored;

    /// <returns>Whether the flight is graded, as far as it is to be.</returns>
    private async Task<bool> GradeAsync(IServiceProvider services, DemoFlight flight, CancellationToken ct)
    {
        var db = services.GetRequiredService<SchoolDrillsDbContext>();
        var attempt = await db.Attempts.Include(a => a.Grades).FirstOrDefaultAsync(a => a.AssignmentId == flight.AssignmentId, ct);
        if (attempt is null || attempt.Grades.Count > 0)
            return true;
        if (attempt.Status == AttemptStatus.Scored)
        {
            DemoGrading.Grade(db, attempt, flight, clock.GetUtcNow());
            await db.SaveChangesAsync(ct);
        }

        return attempt.Status is AttemptStatus.Scored or AttemptStatus.Unscorable;
    }

    private async Task<bool> LookAgainAsync(IServiceProvider services, DemoFlight flight, CancellationToken ct)
    {
        var db = services.GetRequiredService<SchoolDrillsDbContext>();
        if (!flight.SecondLook || await db.Attempts.Include(a => a.Grades).FirstOrDefaultAsync(Scored(flight), ct) is not { } attempt)
            return false;
        if (attempt.Grades is not [{ SignedAtUtc: not null }])
            return false;
        DemoGrading.LookAgain(db, attempt, clock.GetUtcNow());
        await db.SaveChangesAsync(ct);
        return true;
    }

    private async Task<bool> AcknowledgeAsync(IServiceProvider services, DemoFlight flight, CancellationToken ct)
    {
        if (flight.Grade != DemoGrade.Acknowledged)
            return false;
        var db = services.GetRequiredService<SchoolDrillsDbContext>();
        var attempt = await db
            .Attempts.Include(a => a.Grades)
                .ThenInclude(g => g.Acknowledgement)
            .FirstAsync(a => a.AssignmentId == flight.AssignmentId, ct);
        if (attempt.Grades.Where(g => g.SignedAtUtc != null).MaxBy(g => g.Number) is not { Acknowledgement: null } signed)
            return false;
        DemoGrading.Acknowledge(db, attempt, signed, flight, clock.GetUtcNow());
        await db.SaveChangesAsync(ct);
        return true;
    }

    /// <summary>Each step in a scope of its own, which enters the school before the step's first query.</summary>
    private async Task<bool> InSchoolAsync(Viewer viewer, Func<IServiceProvider, Task<bool>> step)
    {
        await using var scope = scopes.CreateAsyncScope();
        scope.ServiceProvider.GetRequiredService<SchoolScope>().Enter(viewer);
        return await step(scope.ServiceProvider);
    }

    private static async Task<byte[]> RecordingAsync(string file, CancellationToken ct)
    {
        await using var packed =
            typeof(DemoSchool).Assembly.GetManifestResourceStream($"demo/{file}.gz")
            ?? throw new FileNotFoundException($"The recording {file} is not built in.");
        await using var unpacked = new GZipStream(packed, CompressionMode.Decompress);
        using var bytes = new MemoryStream();
        await unpacked.CopyToAsync(bytes, ct);
        return bytes.ToArray();
    }
}
