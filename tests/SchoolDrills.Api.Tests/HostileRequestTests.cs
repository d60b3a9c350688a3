using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using SchoolDrills.Api.Tests.People;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests;

/// <summary>
/// Every parameter and every member of every body of every operation in the reference, with values that nobody means well with: whatever
/// is answered, it is never a fault of the server.
/// </summary>
public sealed partial class HostileRequestTests(EndpointMatrixTests.School app) : IClassFixture<EndpointMatrixTests.School>
{
    private const int Seed = 20_260_302,
        ValuesInEachPlace = 10;

    private readonly Random random = new(Seed);
    private readonly List<string> faults = [];
    private int asked;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task No_value_in_any_place_makes_the_server_fail()
    {
        var places = await PlacesAsync();
        foreach (var operation in await OperationsAsync(await TemplateAsync()))
        {
            // Nothing to vary, and everybody's session would be over.
            if (operation.Name == "DELETE /api/v1/session")
                continue;
            using var http = await app.HttpAsync(WhoFor(operation.Path));
            await TryParametersAsync(http, operation, places);
            if (operation.IsUpload)
                await TryUploadAsync(http, operation, places);
            else if (operation.Body is { } body)
                await TryBodyAsync(http, operation, body, places);
        }

        Assert.True(faults.Count == 0, $"{faults.Count} of {asked} (seed {Seed}):\n{string.Join(Environment.NewLine, faults)}");
        Assert.True(asked > 1000, $"Only {asked} requests were made.");
    }

    private async Task TryParametersAsync(HttpClient http, Operation operation, Dictionary<string, string> places)
    {
        foreach (var (name, where) in operation.Parameters)
        {
            for (var i = 0; i < ValuesInEachPlace; i++)
            {
                // A path with a NUL does not get as far as a server that is held in memory.
                var text = HostileValues.Text(random);
                var value = Escaped(where == "path" ? text.Replace("\0", "", StringComparison.Ordinal) : text);
                var url =
                    where == "path"
                        ? Filled(operation.Path.Replace($"{{{name}}}", value, StringComparison.Ordinal), places)
                        : $"{Filled(operation.Path, places)}?{name}={value}";
                using var body = operation.Body is null ? null : Json(operation.Body.ToJsonString());
                await AskAsync(http, operation, url, body, $"{name}={value}");
            }
        }
    }

    private async Task TryBodyAsync(HttpClient http, Operation operation, JsonNode body, Dictionary<string, string> places)
    {
        var url = Filled(operation.Path, places);
        foreach (var pointer in Pointers(body, ""))
        {
            for (var i = 0; i < ValuesInEachPlace; i++)
            {
                var value = HostileValues.Json(random);
                using var content = Json(With(body, pointer, value));
                await AskAsync(http, operation, url, content, $"{pointer}: {value}");
            }
        }

        foreach (var whole in (string[])["", "nothing", "{", "\0", "\uFEFF{}", "{\"\\u0000\": 1}", "{\"a\": 1, \"a\": 2}"])
        {
            using var content = Json(whole);
            await AskAsync(http, operation, url, content, $"body {whole}");
        }
    }

    private async Task TryUploadAsync(HttpClient http, Operation operation, Dictionary<string, string> places)
    {
        var url = Filled(operation.Path, places);
        var meta = JsonSerializer.SerializeToNode(FullMeta(), WireJson.Default.AttemptMeta)!;
        foreach (var pointer in Pointers(meta, ""))
        {
            for (var i = 0; i < ValuesInEachPlace; i++)
            {
                var (value, name) = (HostileValues.Json(random), HostileValues.Text(random));
                using var form = Form(With(meta, pointer, value), i == 0 ? Plain(name) : "f13.csv", i == 1 ? Plain(name) : "timed-turns");
                await AskAsync(http, operation, url, form, $"{pointer}: {value}, file or drill {name}");
            }
        }
    }

    private async Task AskAsync(HttpClient http, Operation operation, string url, HttpContent? body, string what)
    {
        asked++;
        using var request = new HttpRequestMessage(operation.Method, url) { Content = body };
        using var answer = await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, Cancel);
        if ((int)answer.StatusCode >= 500)
            faults.Add($"{operation.Name} with {(what.Length > 120 ? what[..120] + "..." : what)}: {(int)answer.StatusCode}");
    }

    /// <summary>The document with one value in it replaced by text that need not be JSON of its type, or JSON at all.</summary>
    private static string With(JsonNode body, string pointer, string json)
    {
        if (pointer.Length == 0)
            return json;
        const string mark = "here-goes-the-value";
        var copy = body.DeepClone();
        var steps = pointer.Split('/')[1..];
        var parent = steps[..^1].Aggregate(copy, (node, step) => (node is JsonArray list ? list[int.Parse(step, null)] : node[step])!);
        if (parent is JsonArray array)
            array[int.Parse(steps[^1], null)] = mark;
        else
            parent[steps[^1]] = mark;
        return copy.ToJsonString().Replace($"\"{mark}\"", json, StringComparison.Ordinal);
    }

    private static IEnumerable<string> Pointers(JsonNode? node, string at)
    {
        yield return at;
        var below = node switch
        {
            JsonObject members => members.SelectMany(m => Pointers(m.Value, $"{at}/{m.Key}")),
            JsonArray items => items.SelectMany((item, i) => Pointers(item, $"{at}/{i}")),
            _ => [],
        };
        foreach (var pointer in below)
            yield return pointer;
    }

    private static StringContent Json(string body) => new(body, new MediaTypeHeaderValue("application/json"));

    private static MultipartFormDataContent Form(string meta, string fileName, string drill)
    {
        var track = new ByteArrayContent(File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "Recordings", "f13.csv")));
        track.Headers.TryAddWithoutValidation("Content-Disposition", $"form-data; name=\"track\"; filename=\"{fileName}\"");
        return new MultipartFormDataContent
        {
            { Json(meta), "meta" },
            { new StringContent(drill), "drill" },
            track,
        };
    }

    /// <summary>What a header can carry: the client itself refuses the rest.</summary>
    private static string Plain(string text) =>
        new([.. text.Where(c => c is >= ' ' and <= '~' and not ('"' or '\\') || c is '\u202E' or '\u2066').Take(300)]);

    private static string Escaped(string text) =>
        string.Concat(Encoding.UTF8.GetBytes(text[..Math.Min(text.Length, 3_000)]).Select(b => $"%{b:X2}"));
}
