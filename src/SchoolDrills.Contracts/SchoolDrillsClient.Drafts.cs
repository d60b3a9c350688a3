using System.Net.Http.Json;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Contracts;

/// <summary>Drafts of drills.</summary>
public sealed partial class SchoolDrillsClient
{
    /// <summary>A new drill, as it stands, however unfinished.</summary>
    public Task<DrillDraft> CreateDraftAsync(DrillTemplate template, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "drills?unfinished=true", Body(template, Wire.DrillTemplate), Wire.DrillDraft, ct);

    public Task<DrillDraft> DraftAsync(string slug, CancellationToken ct = default) => GetAsync(DraftPath(slug), Wire.DrillDraft, ct);

    /// <summary>
    /// Saves a draft, however unfinished. Where another revision is stored than the one started from, it is refused as
    /// <see cref="ApiProblemException.DraftChanged"/>.
    /// </summary>
    /// <param name="revision">The revision started from, 0 where there was no draft; null to save over whatever is there.</param>
    public Task<DrillDraft> SaveDraftAsync(string slug, DrillTemplate template, int? revision, CancellationToken ct = default) =>
        MatchAsync(HttpMethod.Put, DraftPath(slug) + "?unfinished=true", Body(template, Wire.DrillTemplate), revision, Wire.DrillDraft, ct);

    public async Task DiscardDraftAsync(string slug, int? revision = null, CancellationToken ct = default)
    {
        using var response = await AnswerAsync(HttpMethod.Delete, DraftPath(slug), null, ct, revision);
    }

    /// <summary>Publishes a draft as the drill's next version.</summary>
    /// <param name="revision">The revision seen; null for whatever is there.</param>
    public Task<DrillSummary> PublishDraftAsync(string slug, int? revision = null, CancellationToken ct = default) =>
        MatchAsync(HttpMethod.Post, $"drills/{Escape(slug)}/publish", null, revision, Wire.DrillSummary, ct);

    public Task RetireDrillAsync(string slug, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, $"drills/{Escape(slug)}/retire", null, ct);

    /// <summary>How the draft judges the recording of a stored attempt; nothing is kept.</summary>
    public Task<ScoreReport> TryDraftAsync(string slug, Guid attemptId, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, DraftPath(slug) + "/trial", Body(new TryDraft(attemptId), Wire.TryDraft), Wire.ScoreReport, ct);

    /// <summary>Drafts that were saved over or discarded in the last 30 days, newest first.</summary>
    public Task<IReadOnlyList<DraftRevisionSummary>> DraftRevisionsAsync(string slug, CancellationToken ct = default) =>
        GetAsync(DraftPath(slug) + "/revisions", Wire.IReadOnlyListDraftRevisionSummary, ct);

    public Task<DrillDraft> DraftRevisionAsync(string slug, int revision, CancellationToken ct = default) =>
        GetAsync($"{DraftPath(slug)}/revisions/{Text<int>(revision)}", Wire.DrillDraft, ct);

    private static string DraftPath(string slug) => $"drills/{Escape(slug)}/draft";

    private async Task<T> MatchAsync<T>(
        HttpMethod method,
        string path,
        HttpContent? body,
        int? revision,
        JsonTypeInfo<T> type,
        CancellationToken ct
    )
    {
        using var response = await AnswerAsync(method, path, body, ct, revision);
        return await response.Content.ReadFromJsonAsync(type, ct) ?? throw new JsonException($"{path} answered nothing.");
    }
}
