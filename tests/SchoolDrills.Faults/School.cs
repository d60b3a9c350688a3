using System.Diagnostics;
using System.Net;
using SchoolDrills.Api.Setup;
using SchoolDrills.Contracts;

namespace SchoolDrills.Faults;

/// <summary>A student with one assignment for each drill, by its slug.</summary>
internal sealed record Student(string Email, IReadOnlyDictionary<string, Guid> Assignments);

/// <summary>An invented school, made as an operator and its chief would.</summary>
internal sealed record School(IReadOnlyList<Student> Students)
{
    private const string Password = "attitude plus power";
    private const string Chief = "chief@north.example";
    private static readonly TimeSpan SignInPatience = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan SignInPause = TimeSpan.FromSeconds(1);

    public static async Task<School> MakeAsync(Site site, int students, CancellationToken ct)
    {
        var link = await HostProcess.CommandAsync(NewSchoolCommand.Name, site.Hosts[0].Line, ct);
        using var http = new HttpClient(new RetryHandler { InnerHandler = new SocketsHttpHandler() }) { BaseAddress = site.Proxy.Address };
        var client = new SchoolDrillsClient(http);
        await client.FirstRunAsync(new FirstRun(TokenOf(link), "North Flying School", "Pacific/Auckland", "Chief", Chief, Password), ct);
        await SignInAsync(http, Chief, ct);
        var people = new List<(Guid Id, string Email)>();
        for (var number = 1; number <= students; number++)
        {
            var email = $"student-{number}@north.example";
            var invited = await client.InviteAsync(new InvitePerson($"Student {number}", email, [Roles.Student]), ct);
            await client.AcceptLinkAsync(new AcceptLink(TokenOf(invited.Path), Password), ct);
            people.Add((invited.Person.Id, email));
        }

        var due = DateOnly.FromDateTime(DateTime.UtcNow).AddDays(7);
        var made = new List<AssignmentSummary>();
        foreach (var some in people.Chunk(100))
        {
            made.AddRange(
                await client.AssignAsync(new CreateAssignment([.. some.Select(p => p.Id)], null, due, DrillSlugs: Recordings.Drills), ct)
            );
        }

        return new School([
            .. people.Select(p => new Student(p.Email, made.Where(a => a.StudentId == p.Id).ToDictionary(a => a.DrillSlug, a => a.Id))),
        ]);
    }

    /// <summary>
    /// Signs a client in. No handler sends this again, since it changes something; a person tries again, for a minute.
    /// </summary>
    public static async Task SignInAsync(HttpClient http, string email, CancellationToken ct)
    {
        for (var since = Stopwatch.StartNew(); ; await Task.Delay(SignInPause, ct))
        {
            try
            {
                var session = await new SchoolDrillsClient(http).SignInAsync(new SignIn(email, Password), ct);
                http.DefaultRequestHeaders.Authorization = new("Bearer", session.AccessToken);
                return;
            }
            catch (Exception e) when (IsAway(e) && since.Elapsed < SignInPatience)
            {
                // A host keeps connections to the database that broke long ago until it tries each of them.
            }
        }
    }

    private static bool IsAway(Exception e) =>
        e is HttpRequestException or IOException or ApiProblemException { Status: >= HttpStatusCode.InternalServerError };

    private static string TokenOf(string link) => link.Split("token=")[1].Trim();
}
