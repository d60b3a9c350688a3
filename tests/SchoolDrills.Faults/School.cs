using SchoolDrills.Api.Setup;
using SchoolDrills.Contracts;

namespace SchoolDrills.Faults;

/// <summary>A student with one assignment for each drill, by its slug.</summary>
internal sealed record Student(string Email, IReadOnlyDictionary<string, Guid> Assignments);

/// <summary>An invented school, made as an operator and its chief would.</summary>
internal sealed record School(IReadOnlyList<Student> Students)
{
    public const string Password = "attitude plus power";
    private const string Chief = "chief@north.example";

    public static async Task<School> MakeAsync(Site site, int students, CancellationToken ct)
    {
        var link = await HostProcess.CommandAsync(NewSchoolCommand.Name, site.Hosts[0].Line, ct);
        using var http = new HttpClient(new RetryHandler { InnerHandler = new SocketsHttpHandler() }) { BaseAddress = site.Proxy.Address };
        var client = new SchoolDrillsClient(http);
        await client.FirstRunAsync(new FirstRun(TokenOf(link), "North Flying School", "Pacific/Auckland", "Chief", Chief, Password), ct);
        var session = await client.SignInAsync(new SignIn(Chief, Password), ct);
        http.DefaultRequestHeaders.Authorization = new("Bearer", session.AccessToken);
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

    private static string TokenOf(string link) => link.Split("token=")[1].Trim();
}
