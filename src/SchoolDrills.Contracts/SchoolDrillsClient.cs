using System.Globalization;
using System.Net.Http.Json;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Contracts;

/// <summary>The REST API as methods. A refusal is an <see cref="ApiProblemException"/>, never a null.</summary>
/// <param name="http">Client with a base address; sends the bearer token if one is set there.</param>
public sealed partial class SchoolDrillsClient(HttpClient http)
{
    private static readonly WireJson Wire = WireJson.Default;

    public Task<SessionTokens> SignInAsync(SignIn signIn, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "session", Body(signIn, Wire.SignIn), Wire.SessionTokens, ct);

    public Task FirstRunAsync(FirstRun firstRun, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "first-run", Body(firstRun, Wire.FirstRun), ct);

    public Task<SessionTokens> RefreshAsync(RefreshSession refresh, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "session/refresh", Body(refresh, Wire.RefreshSession), Wire.SessionTokens, ct);

    public Task SignOutAsync(CancellationToken ct = default) => SendAsync(HttpMethod.Delete, "session", null, ct);

    public Task<Me> MeAsync(CancellationToken ct = default) => GetAsync("me", Wire.Me, ct);

    public Task<IReadOnlyList<PersonSummary>> PeopleAsync(string? role = null, CancellationToken ct = default) =>
        AllAsync("people" + Query(("role", role)), Wire.IReadOnlyListPersonSummary, ct);

    public Task<IReadOnlyList<DrillSummary>> DrillsAsync(CancellationToken ct = default) =>
        GetAsync("drills", Wire.IReadOnlyListDrillSummary, ct);

    public Task<DrillTemplate> DrillAsync(string slug, int? version = null, CancellationToken ct = default) =>
        GetAsync($"drills/{Escape(slug)}" + Query(("version", Text(version))), Wire.DrillTemplate, ct);

    public Task<DrillTimeline> TimelineAsync(
        string slug,
        int? version = null,
        AssignmentOverrides? entry = null,
        CancellationToken ct = default
    ) => GetAsync($"drills/{Escape(slug)}/timeline" + EntryQuery(version, entry), Wire.DrillTimeline, ct);

    public Task<DrillPicture> PictureAsync(
        string slug,
        int? version = null,
        AssignmentOverrides? entry = null,
        CancellationToken ct = default
    ) => GetAsync($"drills/{Escape(slug)}/picture" + EntryQuery(version, entry), Wire.DrillPicture, ct);

    public Task<DrillPlanReply> PlanAsync(string slug, PlanDrill asked, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, $"drills/{Escape(slug)}/plan", Body(asked, Wire.PlanDrill), Wire.DrillPlanReply, ct);

    /// <summary>
    /// Uploads a recording, for an assignment or (null) as a free attempt whose drill and student stand in the meta. The same bytes for
    /// the same work are one attempt, so a <see cref="RetryHandler"/> sends them again where the stream can go back.
    /// </summary>
    public Task<AttemptAccepted> UploadAsync(
        Guid? assignmentId,
        Stream track,
        string fileName,
        AttemptMeta meta,
        CancellationToken ct = default
    )
    {
        var form = new MultipartFormDataContent
        {
            { new StreamContent(track), "track", fileName },
            { Body(meta, Wire.AttemptMeta), "meta" },
        };
        return SendAsync(
            HttpMethod.Post,
            assignmentId is { } id ? $"assignments/{id}/attempts" : "attempts",
            form,
            Wire.AttemptAccepted,
            ct,
            repeatable: track.CanSeek
        );
    }

    public Task<AttemptPage> AttemptsAsync(
        Guid? studentId = null,
        string? drillSlug = null,
        string? status = null,
        int page = 1,
        CancellationToken ct = default
    ) =>
        GetAsync(
            "attempts"
                + Query(("studentId", studentId?.ToString()), ("drillSlug", drillSlug), ("status", status), ("page", Text((int?)page))),
            Wire.AttemptPage,
            ct
        );

    public Task<AttemptDetail> AttemptAsync(Guid id, CancellationToken ct = default) => GetAsync($"attempts/{id}", Wire.AttemptDetail, ct);

    public Task<TrackColumns> TrackAsync(Guid id, CancellationToken ct = default) =>
        GetAsync($"attempts/{id}/track", Wire.TrackColumns, ct);

    public Task<AttemptColumns> ColumnsAsync(Guid attemptId, CancellationToken ct = default) =>
        GetAsync($"attempts/{attemptId}/columns", Wire.AttemptColumns, ct);

    public Task<AttemptAccepted> SetColumnsAsync(Guid attemptId, SetColumns columns, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Put, $"attempts/{attemptId}/columns", Body(columns, Wire.SetColumns), Wire.AttemptAccepted, ct);

    public Task<GradeView> SaveGradeAsync(Guid attemptId, SaveGrade grade, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, $"attempts/{attemptId}/grade", Body(grade, Wire.SaveGrade), Wire.GradeView, ct);

    public Task<GradeView> AmendGradeAsync(Guid attemptId, AmendGrade grade, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, $"attempts/{attemptId}/grade/amend", Body(grade, Wire.AmendGrade), Wire.GradeView, ct);

    public Task<GradeView> AcknowledgeGradeAsync(Guid attemptId, AcknowledgeGrade acknowledgement, CancellationToken ct = default) =>
        SendAsync(
            HttpMethod.Post,
            $"attempts/{attemptId}/grade/acknowledge",
            Body(acknowledgement, Wire.AcknowledgeGrade),
            Wire.GradeView,
            ct
        );

    /// <summary>The grade as it stands, without the rest of the attempt.</summary>
    public Task<GradeStanding> GradeAsync(Guid attemptId, CancellationToken ct = default) =>
        GetAsync($"attempts/{attemptId}/grade", Wire.GradeStanding, ct);

    public Task<BoundariesView> BoundariesAsync(Guid attemptId, CancellationToken ct = default) =>
        GetAsync($"attempts/{attemptId}/boundaries", Wire.BoundariesView, ct);

    public Task<AttemptDetail> SetBoundariesAsync(Guid attemptId, PutBoundaries boundaries, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Put, $"attempts/{attemptId}/boundaries", Body(boundaries, Wire.PutBoundaries), Wire.AttemptDetail, ct);

    /// <summary>Scores an attempt as another of its report's readings.</summary>
    public Task<AttemptDetail> ChooseReadingAsync(Guid attemptId, PutReading reading, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Put, $"attempts/{attemptId}/reading", Body(reading, Wire.PutReading), Wire.AttemptDetail, ct);

    /// <summary>Back to the engine's own boundaries.</summary>
    public Task<AttemptDetail> UndoBoundariesAsync(Guid attemptId, int? revision = null, CancellationToken ct = default) =>
        SendAsync(
            HttpMethod.Delete,
            $"attempts/{attemptId}/boundaries" + Query(("revision", Text(revision))),
            null,
            Wire.AttemptDetail,
            ct
        );

    public Task<SelfAssessmentView> AssessSelfAsync(Guid attemptId, PutSelfAssessment assessment, CancellationToken ct = default) =>
        SendAsync(
            HttpMethod.Put,
            $"attempts/{attemptId}/self-assessment",
            Body(assessment, Wire.PutSelfAssessment),
            Wire.SelfAssessmentView,
            ct
        );

    public Task<SchoolSettings> SettingsAsync(CancellationToken ct = default) => GetAsync("school/settings", Wire.SchoolSettings, ct);

    public Task<SchoolSettings> SaveSettingsAsync(SchoolSettings settings, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Put, "school/settings", Body(settings, Wire.SchoolSettings), Wire.SchoolSettings, ct);

    /// <summary>Sends a recording that is to be looked at before it becomes an attempt.</summary>
    public Task<PendingUpload> SendRecordingAsync(Stream track, string fileName, CancellationToken ct = default) =>
        SendAsync(
            HttpMethod.Post,
            "uploads",
            new MultipartFormDataContent { { new StreamContent(track), "track", fileName } },
            Wire.PendingUpload,
            ct
        );

    public Task<IReadOnlyList<PendingUpload>> PendingAsync(CancellationToken ct = default) =>
        AllAsync("uploads", Wire.IReadOnlyListPendingUpload, ct);

    /// <summary>What a pending recording is of, and what speaks against using it for an assignment.</summary>
    public Task<UploadCheck> CheckUploadAsync(Guid id, Guid? assignmentId = null, CancellationToken ct = default) =>
        GetAsync($"uploads/{id}/check" + Query(("assignmentId", assignmentId?.ToString())), Wire.UploadCheck, ct);

    public Task<AttemptAccepted> ClaimUploadAsync(Guid id, ClaimUpload claim, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, $"uploads/{id}/attempt", Body(claim, Wire.ClaimUpload), Wire.AttemptAccepted, ct);

    public Task DropUploadAsync(Guid id, CancellationToken ct = default) => SendAsync(HttpMethod.Delete, $"uploads/{id}", null, ct);

    /// <summary>Scores a recording without keeping it.</summary>
    public Task<ScoreReport> ScorePreviewAsync(
        string drillSlug,
        Stream track,
        string fileName,
        AttemptMeta options,
        CancellationToken ct = default
    ) => SendAsync(HttpMethod.Post, "score-preview", PreviewForm(drillSlug, track, fileName, options), Wire.ScoreReport, ct);

    /// <summary>The same with the columns for its plots.</summary>
    public Task<ScoredPreview> ScorePreviewWithTrackAsync(
        string drillSlug,
        Stream track,
        string fileName,
        AttemptMeta options,
        CancellationToken ct = default
    ) => SendAsync(HttpMethod.Post, "score-preview?columns=true", PreviewForm(drillSlug, track, fileName, options), Wire.ScoredPreview, ct);

    private static MultipartFormDataContent PreviewForm(string drillSlug, Stream track, string fileName, AttemptMeta options) =>
        new()
        {
            { new StringContent(drillSlug), "drill" },
            { new StreamContent(track), "track", fileName },
            { Body(options, Wire.AttemptMeta), "options" },
        };

    private static string EntryQuery(int? version, AssignmentOverrides? entry) =>
        Query(
            ("version", Text(version)),
            ("headingMagDeg", Text(entry?.HeadingMagDeg)),
            ("altitudeFt", Text(entry?.AltitudeFt)),
            ("airspeedKt", Text(entry?.AirspeedKt)),
            ("mirrored", entry?.Mirrored is true ? "true" : null),
            ("halfRate", entry?.HalfRate is true ? "true" : null)
        );

    private static string? Text<T>(T? value)
        where T : struct, IFormattable => value?.ToString(null, CultureInfo.InvariantCulture);

    private static string Escape(string part) => Uri.EscapeDataString(part);

    private static string Query(params ReadOnlySpan<(string Name, string? Value)> pairs)
    {
        var query = "";
        foreach (var (name, value) in pairs)
        {
            if (value is not null)
                query += $"{(query.Length == 0 ? '?' : '&')}{name}={Escape(value)}";
        }

        return query;
    }

    private static JsonContent Body<T>(T value, JsonTypeInfo<T> type) => JsonContent.Create(value, type);

    private Task<T> GetAsync<T>(string path, JsonTypeInfo<T> type, CancellationToken ct) => SendAsync(HttpMethod.Get, path, null, type, ct);

    /// <param name="repeatable">Whether sending it twice does what sending it once does.</param>
    private async Task<T> SendAsync<T>(
        HttpMethod method,
        string path,
        HttpContent? body,
        JsonTypeInfo<T> type,
        CancellationToken ct,
        bool repeatable = false
    )
    {
        using var response = await AnswerAsync(method, path, body, ct, repeatable: repeatable);
        return await response.Content.ReadFromJsonAsync(type, ct) ?? throw new JsonException($"{path} answered nothing.");
    }

    private async Task SendAsync(HttpMethod method, string path, HttpContent? body, CancellationToken ct)
    {
        using var response = await AnswerAsync(method, path, body, ct);
    }

    private async Task<HttpResponseMessage> AnswerAsync(
        HttpMethod method,
        string path,
        HttpContent? body,
        CancellationToken ct,
        int? ifMatch = null,
        bool repeatable = false
    )
    {
        using var request = new HttpRequestMessage(method, "api/v1/" + path) { Content = body };
        request.Options.Set(RetryHandler.Repeatable, repeatable);
        if (ifMatch is { } revision)
            request.Headers.Add("If-Match", string.Create(CultureInfo.InvariantCulture, $"\"{revision}\""));
        var response = await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, ct);
        if (response.IsSuccessStatusCode)
            return response;
        using (response)
        {
            throw await RefusalAsync(response, ct);
        }
    }

    private static async Task<ApiProblemException> RefusalAsync(HttpResponseMessage response, CancellationToken ct)
    {
        ProblemBody? problem = null;
        if (response.Content.Headers.ContentType?.MediaType?.EndsWith("json", StringComparison.Ordinal) is true)
        {
            problem = await response.Content.ReadFromJsonAsync(Wire.ProblemBody, ct);
        }

        return new ApiProblemException(
            response.StatusCode,
            problem?.Type,
            problem?.Title,
            problem?.Detail,
            problem?.Errors,
            problem?.Columns,
            problem?.TraceId
        );
    }
}
