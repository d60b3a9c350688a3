namespace SchoolDrills.Contracts;

/// <summary>Scores anew what an older engine scored.</summary>
public sealed partial class SchoolDrillsClient
{
    /// <summary>Counts what a choice would have, and tells how far the newest rescoring is.</summary>
    public Task<RescoringStanding> RescoringAsync(RescoringChoice? choice = null, CancellationToken ct = default) =>
        GetAsync(
            "school/rescoring"
                + Query(
                    ("engineVersion", choice?.EngineVersion),
                    ("drillSlug", choice?.DrillSlug),
                    ("studentId", choice?.StudentId?.ToString()),
                    ("flownFrom", Day(choice?.FlownFrom)),
                    ("flownTo", Day(choice?.FlownTo))
                ),
            Wire.RescoringStanding,
            ct
        );

    public Task<RescoringStanding> RescoreAsync(RescoringChoice choice, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "school/rescoring", Body(choice, Wire.RescoringChoice), Wire.RescoringStanding, ct);

    public Task<RescoringStanding> StopRescoringAsync(CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "school/rescoring/stop", null, Wire.RescoringStanding, ct);

    public Task<RescoredPage> RescoredAsync(int page = 1, CancellationToken ct = default) =>
        GetAsync("school/rescoring/changes" + Query(("page", Text((int?)page))), Wire.RescoredPage, ct);
}
