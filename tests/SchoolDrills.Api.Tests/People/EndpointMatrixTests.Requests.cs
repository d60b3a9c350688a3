using System.Net.Http.Headers;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Drills;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Tests.People;

/// <summary>How each operation of the matrix is called.</summary>
public sealed partial class EndpointMatrixTests
{
    private const string Program = "a program with the chief's token",
        ChiefOfAWhileAgo = "the chief of a while ago",
        PageElsewhere = "a page elsewhere with the chief's cookie";

    private string? programsToken,
        oldToken,
        cookie;

    private async Task<List<string>> OperationsAsync()
    {
        using var http = app.CreateClient();
        var paths = JsonDocument.Parse(await http.GetStringAsync("/api/v1/openapi.json", Cancel)).RootElement.GetProperty("paths");
        return
        [
            .. paths
                .EnumerateObject()
                .SelectMany(p => p.Value.EnumerateObject().Select(o => $"{o.Name.ToUpperInvariant()} {p.Name["/api/v1/".Length..]}")),
        ];
    }

    private async Task<int> AskAsync(string who, string operation, string path)
    {
        // A retired drill is nothing that the next one could retire.
        if (operation is "POST drills/{slug}/retire")
        {
            await app.QueryAsync(db =>
                db.DrillVersions.Where(d => d.State == DrillState.Retired)
                    .ExecuteUpdateAsync(d => d.SetProperty(x => x.State, DrillState.Published), Cancel)
            );
        }

        using var http = app.CreateClient(new() { HandleCookies = false });
        using var request = Request(operation, path);
        if (who is PageElsewhere)
        {
            request.Headers.Add("Cookie", cookie ??= await app.CookieAsync(SchoolsFixture.Chief));
            request.Headers.Add("Origin", "http://localhost:8080");
        }
        else if (who.Length > 0)
        {
            http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", await TokenAsync(who, operation));
        }

        return (int)(await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, Cancel)).StatusCode;
    }

    private async Task<string> TokenAsync(string who, string operation) =>
        who switch
        {
            // Whoever signs out here must not be the one whom all others share.
            ChiefOfAWhileAgo when operation is "DELETE session" => await app.SignInOfAWhileAgoAsync(SchoolsFixture.Chief),
            _ when operation is "DELETE session" && who != Program => (await app.SignInAsync(who)).AccessToken,
            Program => programsToken ??= await ProgramsTokenAsync(),
            ChiefOfAWhileAgo => oldToken ??= await app.SignInOfAWhileAgoAsync(SchoolsFixture.Chief),
            _ => (await app.HttpAsync(who)).DefaultRequestHeaders.Authorization!.Parameter!,
        };

    private async Task<string> ProgramsTokenAsync() =>
        (await (await app.AsAsync(SchoolsFixture.Chief)).CreateApiTokenAsync(new CreateApiToken("writer", "write", 1), Cancel)).Token;

    private static HttpRequestMessage Request(string operation, string path)
    {
        var request = new HttpRequestMessage(new HttpMethod(operation.Split(' ')[0]), "/api/v1/" + path);
        if (request.Method != HttpMethod.Get && request.Method != HttpMethod.Delete)
            request.Content = new StringContent(BodyOf(operation), new MediaTypeHeaderValue("application/json"));
        return request;
    }

    /// <summary>Well-formed where an endpoint looks at the body before it looks whose the thing is; empty else.</summary>
    private static string BodyOf(string operation) =>
        operation switch
        {
            "PUT people/{id}" => """{"displayName": "A spare student", "roles": ["student"]}""",
            "PUT people/{id}/legal-hold" => """{"hold": false}""",
            "PUT attempts/{id}/events/{eventId}" => """{"kind": "mark", "atUtc": "2026-02-01T00:00:00Z"}""",
            "PUT attempts/{id}/load-ratings/{number}" => """{"rating": 3}""",
            "PUT assignments/{id}/flight-logs/{logId}" => """{"sentAtUtc": "2026-02-01T00:00:00Z"}""",
            "POST session/switch" => $$"""{"schoolId": "{{Guid.NewGuid()}}"}""",
            _ => "{}",
        };

    private async Task<string> PathAsync(string operation, Guid attemptId, Guid assignmentId)
    {
        var path = operation.Split(' ')[1];
        var student = app.IdOf(SchoolsFixture.Student);
        var id = path.Split('/')[0] switch
        {
            "attempts" => attemptId,
            "assignments" => assignmentId,
            "students" => student,
            "uploads" when path.Contains("{id}", StringComparison.Ordinal) => await PendingAsync(),
            // What is done to an account is done to one that nobody needs.
            "people"
                when path.EndsWith("/sessions", StringComparison.Ordinal)
                    || path.EndsWith("/data", StringComparison.Ordinal)
                    || path.Contains("/tokens", StringComparison.Ordinal)
                    || path.Contains("/sessions/", StringComparison.Ordinal) => student,
            "people" when path.Contains("{id}", StringComparison.Ordinal) => await SpareAsync(),
            _ => Guid.Empty,
        };
        if (path.Contains("{reportId}", StringComparison.Ordinal))
        {
            var reportId = await app.QueryAsync(db =>
                db.Attempts.Where(a => a.Id == attemptId).Select(a => a.LatestReportId).FirstOrDefaultAsync(Cancel)
            );
            path = path.Replace("{reportId}", reportId.ToString(), StringComparison.Ordinal);
        }

        if (path.Contains("{sessionId}", StringComparison.Ordinal))
        {
            await app.SignInAsync(SchoolsFixture.Student);
            path = path.Replace(
                "{sessionId}",
                (await (await app.AsAsync(SchoolsFixture.Student)).SessionsAsync(student, Cancel)).First(s => !s.Current).Id.ToString(),
                StringComparison.Ordinal
            );
        }

        if (path.Contains("{tokenId}", StringComparison.Ordinal))
        {
            var made = await (await app.AsAsync(SchoolsFixture.Student)).CreateApiTokenAsync(
                new CreateApiToken("for the table", "read", 1),
                Cancel
            );
            path = path.Replace("{tokenId}", made.Summary.Id.ToString(), StringComparison.Ordinal);
        }

        return path.Replace("{id}", id.ToString(), StringComparison.Ordinal)
            .Replace("{slug}", "vertical-s-turning", StringComparison.Ordinal)
            .Replace("{eventId}", Guid.NewGuid().ToString(), StringComparison.Ordinal)
            .Replace("{logId}", Guid.NewGuid().ToString(), StringComparison.Ordinal)
            .Replace("{number}", "1", StringComparison.Ordinal);
    }

    private async Task<Guid> SpareAsync() =>
        (
            await (await app.AsAsync(SchoolsFixture.Chief)).InviteAsync(
                new InvitePerson("A spare student", $"{Guid.NewGuid():N}@tussockplains.example", [Roles.Student]),
                Cancel
            )
        )
            .Person
            .Id;

    private async Task<Guid> PendingAsync()
    {
        using var http = await app.HttpAsync(SchoolsFixture.Student);
        await using var track = SchoolsFixture.Recording("f13.csv");
        using var form = new MultipartFormDataContent { { new StreamContent(track), "track", "f13.csv" } };
        var answer = await http.PostAsync("/api/v1/uploads", form, Cancel);
        return JsonDocument.Parse(await answer.Content.ReadAsStringAsync(Cancel)).RootElement.GetProperty("id").GetGuid();
    }
}
