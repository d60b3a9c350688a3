using System.Collections.Concurrent;
using System.Net.Http.Headers;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.People;
using SchoolDrills.Api.Schools;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using Xunit;

namespace SchoolDrills.Api.Tests;

/// <summary>
/// The app with two invented schools in it, people of each role, and a few drills of the catalogue. No job server: a test that
/// wants an attempt scored says so with <see cref="ScoreAsync"/>, and what it then sees does not depend on a clock.
/// </summary>
public class SchoolsFixture : ApiFixture
{
    public const string Chief = "chief",
        Instructor = "instructor",
        SecondInstructor = "second-instructor",
        Student = "student",
        OtherStudent = "other-student";

    /// <summary>The other school's.</summary>
    public const string FarChief = "far-chief",
        FarStudent = "far-student";

    public const string Password = "scan-and-trim";

    private static readonly string[] DrillSlugs = ["box-circles", "box-step-1-square", "racetrack", "timed-turns", "vertical-s-turning"];

    private readonly ConcurrentDictionary<string, Guid> people = new();
    private readonly ConcurrentDictionary<string, Task<string>> tokens = new();

    public Guid TussockId { get; } = Guid.CreateVersion7();

    public Guid ElsewhereId { get; } = Guid.CreateVersion7();

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public override async ValueTask InitializeAsync()
    {
        await base.InitializeAsync();
        await SeedAsync(
            TussockId,
            "Tussock Plains Flying School",
            "Pacific/Auckland",
            (Chief, Roles.Chief),
            (Instructor, Roles.Instructor),
            (SecondInstructor, Roles.Instructor),
            (Student, Roles.Student),
            (OtherStudent, Roles.Student)
        );
        await SeedAsync(ElsewhereId, "Elsewhere Aero Club", "Europe/Berlin", (FarChief, Roles.Chief), (FarStudent, Roles.Student));
    }

    public static string EmailOf(string person) => $"{person}@tussockplains.example";

    public Guid IdOf(string person) => people[person];

    /// <summary>A client without a token.</summary>
    public HttpClient Stranger() => CreateClient();

    /// <summary>A client signed in as a person; signed in once and kept, so that tests do not meet the limit on sign-ins.</summary>
    public async Task<HttpClient> HttpAsync(string person)
    {
        var http = CreateClient();
        var token = await tokens.GetOrAdd(person, async _ => (await SignInAsync(person)).AccessToken);
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", token);
        return http;
    }

    public async Task<SchoolDrillsClient> AsAsync(string person) => new(await HttpAsync(person));

    /// <summary>A client for somebody new at the first school, with whom no other test has to do.</summary>
    public async Task<SchoolDrillsClient> NewcomerAsync(string name, string role)
    {
        var made = await (await AsAsync(Chief)).InviteAsync(new InvitePerson($"The {name}", EmailOf(name), [role]), Cancel);
        await new SchoolDrillsClient(Stranger()).AcceptLinkAsync(new AcceptLink(made.Path.Split("token=")[1], Password), Cancel);
        people[name] = made.Person.Id;
        return await AsAsync(name);
    }

    public Task<SessionTokens> SignInAsync(string person) =>
        new SchoolDrillsClient(CreateClient()).SignInAsync(new SignIn(EmailOf(person), Password), Cancel);

    /// <summary>The access token of a session whose password was given longer ago than counts for what asks for it again.</summary>
    public async Task<string> SignInOfAWhileAgoAsync(string person)
    {
        var session = await SignInAsync(person);
        await AgePasswordAsync(person);
        return session.AccessToken;
    }

    /// <summary>Makes the password of somebody's newest session one that was given a while ago.</summary>
    public Task AgePasswordAsync(string person) =>
        QueryAccountsAsync(async db =>
        {
            var id = IdOf(person);
            var newest = await db.Sessions.Where(s => s.PersonId == id).OrderBy(s => s.StartedAtUtc).LastAsync(Cancel);
            newest.PasswordAtUtc -= TimeSpan.FromMinutes(16);
            return await db.SaveChangesAsync(Cancel);
        });

    public static FileStream Recording(string name) => File.OpenRead(Path.Combine(AppContext.BaseDirectory, "Recordings", name));

    /// <summary>Assigns a drill as the instructor.</summary>
    public async Task<AssignmentSummary> AssignAsync(string drillSlug, string student = Student, AssignmentOverrides? overrides = null) =>
        Assert.Single(
            await (await AsAsync(Instructor)).AssignAsync(
                new CreateAssignment([IdOf(student)], drillSlug, new DateOnly(2030, 1, 31), Overrides: overrides),
                Cancel
            )
        );

    /// <summary>The aircraft profiles of the starter catalogue, for the first school.</summary>
    public Task<int> AddAircraftAsync() =>
        QueryAsync(db =>
        {
            db.Aircraft.AddRange(
                Catalogue.Aircraft.Select(p => new AircraftRow
                {
                    SchoolId = TussockId,
                    Slug = p.Slug,
                    Profile = p,
                })
            );
            return db.SaveChangesAsync(Cancel);
        });

    /// <summary>Uploads a recording for an assignment, as the student.</summary>
    public async Task<Guid> UploadAsync(Guid assignmentId, string recording, AttemptMeta? meta = null, string student = Student)
    {
        await using var track = Recording(recording);
        return (await (await AsAsync(student)).UploadAsync(assignmentId, track, recording, meta ?? new AttemptMeta(), Cancel)).AttemptId;
    }

    /// <summary>A fresh assignment, flown with a recording and scored.</summary>
    public async Task<Guid> ScoredAsync(string drillSlug, string recording, AssignmentOverrides? overrides = null)
    {
        var assignment = await AssignAsync(drillSlug, overrides: overrides);
        var attemptId = await UploadAsync(assignment.Id, recording);
        await ScoreAsync(attemptId);
        return attemptId;
    }

    /// <summary>Runs the scoring job as a worker would.</summary>
    public async Task ScoreAsync(Guid attemptId)
    {
        await using var scope = Services.CreateAsyncScope();
        await ActivatorUtilities
            .CreateInstance<ScoreAttemptJob>(scope.ServiceProvider)
            .RunAsync(attemptId, TussockId, isLastTry: false, Cancel);
    }

    /// <summary>The database as the first school sees it, whole.</summary>
    internal async Task<T> QueryAsync<T>(Func<SchoolDrillsDbContext, Task<T>> query)
    {
        await using var scope = Services.CreateAsyncScope();
        scope.ServiceProvider.GetRequiredService<SchoolScope>().Enter(Viewer.Staff(TussockId, IdOf(Chief), ownStudents: null));
        return await query(scope.ServiceProvider.GetRequiredService<SchoolDrillsDbContext>());
    }

    /// <summary>The same as a job, which may change what a person may not.</summary>
    internal async Task<T> QueryAsJobAsync<T>(Func<SchoolDrillsDbContext, Task<T>> query)
    {
        await using var scope = Services.CreateAsyncScope();
        scope.ServiceProvider.GetRequiredService<SchoolScope>().Enter(Viewer.Job(TussockId));
        return await query(scope.ServiceProvider.GetRequiredService<SchoolDrillsDbContext>());
    }

    /// <summary>The accounts of the first school, with their secrets.</summary>
    internal async Task<T> QueryAccountsAsync<T>(Func<AccountsDbContext, Task<T>> query)
    {
        await using var scope = Services.CreateAsyncScope();
        scope.ServiceProvider.GetRequiredService<SchoolScope>().Enter(Viewer.SigningIn(TussockId));
        return await query(scope.ServiceProvider.GetRequiredService<AccountsDbContext>());
    }

    private async Task SeedAsync(Guid schoolId, string name, string timeZone, params (string Name, string Role)[] people)
    {
        await using var scope = Services.CreateAsyncScope();
        scope.ServiceProvider.GetRequiredService<SchoolScope>().Enter(Viewer.SigningIn(schoolId));
        var db = scope.ServiceProvider.GetRequiredService<AccountsDbContext>();
        db.Schools.Add(
            new School
            {
                Id = schoolId,
                Name = name,
                TimeZone = timeZone,
            }
        );
        db.Standards.AddRange(
            Catalogue.Standards.Select(s => new StandardRow
            {
                SchoolId = schoolId,
                Slug = s.Slug,
                Standard = s,
            })
        );
        db.DrillVersions.AddRange(
            Catalogue
                .Templates.Where(t => DrillSlugs.Contains(t.Slug))
                .Select(t => new DrillVersion
                {
                    SchoolId = schoolId,
                    Slug = t.Slug,
                    Version = 1,
                    State = DrillState.Published,
                    Template = t with { Version = 1 },
                    SavedAtUtc = DateTimeOffset.UnixEpoch,
                })
        );
        var passwords = scope.ServiceProvider.GetRequiredService<Passwords>();
        foreach (var (person, role) in people)
        {
            var row = new Person
            {
                SchoolId = schoolId,
                DisplayName = $"The {person}",
                Email = EmailOf(person),
                Roles = [role],
            };
            var credentials = Credentials.None(row);
            passwords.Choose(row, credentials, Password);
            db.People.Add(row);
            db.Credentials.Add(credentials);
            this.people[person] = row.Id;
        }

        await db.SaveChangesAsync(Cancel);
    }
}
