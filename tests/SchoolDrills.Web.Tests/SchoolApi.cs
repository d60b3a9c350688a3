using System.Net;
using System.Net.Http.Json;
using SchoolDrills.Contracts;

namespace SchoolDrills.Web.Tests;

/// <summary>The network's far end: answers the typed client with what the sample school holds, and keeps what was asked.</summary>
internal sealed class SchoolApi : HttpMessageHandler
{
    private readonly Dictionary<string, Func<HttpResponseMessage>> answers = [];

    public List<string> Asked { get; } = [];

    /// <summary>The newest body sent to an operation, such as <c>PUT school/settings</c>.</summary>
    public Dictionary<string, string> Sent { get; } = [];

    public SchoolDrillsClient Client =>
        new(new HttpClient(this, disposeHandler: false) { BaseAddress = new Uri("http://school.invalid/") });

    /// <param name="path">The path, with its method before it where another is answered otherwise: <c>PUT drills/x/draft</c>.</param>
    public SchoolApi Answer<T>(string path, T value)
    {
        answers[path] = () =>
            new HttpResponseMessage(HttpStatusCode.OK) { Content = JsonContent.Create(value, options: WireJson.Default.Options) };
        return this;
    }

    public SchoolApi Refuse(string path, HttpStatusCode status, string detail)
    {
        answers[path] = () =>
            new HttpResponseMessage(status)
            {
                Content = JsonContent.Create(
                    new ProblemBody("urn:problem", "Refused", detail, (int)status, null),
                    WireJson.Default.ProblemBody
                ),
            };
        return this;
    }

    /// <summary>Once refused, the next is answered.</summary>
    public SchoolApi AfterRefusing<T>(string path, T value)
    {
        var refusal = answers[path];
        answers[path] = () =>
        {
            Answer(path, value);
            return refusal();
        };
        return this;
    }

    protected override async Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
    {
        var path = request.RequestUri!.AbsolutePath["/api/v1/".Length..];
        Asked.Add($"{request.Method} {request.RequestUri.PathAndQuery["/api/v1/".Length..]}");
        if (request.Content is { } body)
            Sent[$"{request.Method} {path}"] = await body.ReadAsStringAsync(cancellationToken);
        var answer = answers.GetValueOrDefault($"{request.Method} {path}") ?? answers.GetValueOrDefault(path);
        return answer?.Invoke() ?? new HttpResponseMessage(HttpStatusCode.NotFound);
    }

    /// <summary>All of the sample school, as one role sees it.</summary>
    public static SchoolApi For(string role) =>
        new SchoolApi()
            .Answer("me", SampleSchool.Person(role))
            .Answer<IReadOnlyList<AssignmentSummary>>("assignments", [SampleSchool.Assignment()])
            .Answer($"assignments/{SampleSchool.AssignmentId}", SampleSchool.Assignment())
            .Answer("desk", SampleSchool.Desk())
            .Answer($"students/{SampleSchool.StudentId}/notes", new StudentNotePage([], 1, 10, 0))
            .Answer("attempts", new AttemptPage([SampleSchool.Attempt()], 1, 50, 1))
            .Answer($"attempts/{SampleSchool.AttemptId}", SampleSchool.Detail())
            .Answer<IReadOnlyList<FlightLogView>>($"attempts/{SampleSchool.AttemptId}/flight-logs", [])
            .Answer<IReadOnlyList<FlightLogView>>($"assignments/{SampleSchool.AssignmentId}/flight-logs", [])
            .Answer("drills/two-turns", SampleSchool.Template)
            .Answer("drills/two-turns/timeline", SampleSchool.Timeline)
            .Answer("drills/two-turns/picture", SampleSchool.Picture)
            .Answer<IReadOnlyList<DrillSummary>>(
                "drills",
                [new("two-turns", 1, "Two climbing turns", SampleSchool.Template.Purpose, 240, 4, 2, "published", "instrument-rating")]
            )
            .Answer<IReadOnlyList<SchoolDrills.Engine.Drills.ToleranceStandard>>("standards", [SampleSchool.Standard])
            .Answer<IReadOnlyList<StandardEdition>>(
                "standards/editions",
                [new(SampleSchool.Standard, SampleSchool.Standard.Slug, 1, null, null, [], 0, 0)]
            )
            .Answer<IReadOnlyList<SchoolDrills.Engine.Drills.AircraftProfile>>("aircraft", [])
            .Answer<IReadOnlyList<BeforeAssigning>>("assignments/before", [])
            .Answer<IReadOnlyList<PersonSummary>>(
                "people",
                [new(SampleSchool.StudentId, "Rewi Marsh", "student@tussockplains.example", [Roles.Student], true)]
            )
            .Answer($"students/{SampleSchool.StudentId}/progress", SampleSchool.Progress)
            .Answer<IReadOnlyList<WeakSegmentSummary>>($"students/{SampleSchool.StudentId}/weak-segments", SampleSchool.Weak)
            .Answer($"students/{SampleSchool.StudentId}/load", SampleLoad.Nothing)
            .Answer<IReadOnlyList<NextDrillSuggestion>>(
                $"students/{SampleSchool.StudentId}/next-drill",
                [new("two-turns", "Hard enough to learn from.", "Two climbing turns", 0.78)]
            );
}
