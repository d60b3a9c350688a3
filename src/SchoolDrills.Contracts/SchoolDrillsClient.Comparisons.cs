using System.Text.Json;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Contracts;

/// <summary>One attempt beside another.</summary>
public sealed partial class SchoolDrillsClient
{
    /// <param name="with">What to compare with; the first that there is unless given.</param>
    public Task<AttemptComparison> ComparisonAsync(Guid attemptId, ComparedWith? with = null, CancellationToken ct = default) =>
        GetAsync($"attempts/{attemptId}/comparison" + Query(("with", Word(with))), Wire.AttemptComparison, ct);

    /// <summary>The columns of both.</summary>
    public Task<FlightOverlay> OverlayAsync(Guid attemptId, ComparedWith with, CancellationToken ct = default) =>
        GetAsync($"attempts/{attemptId}/comparison/track" + Query(("with", Word(with))), Wire.FlightOverlay, ct);

    public Task<ExampleStanding> ExampleAsync(Guid attemptId, CancellationToken ct = default) =>
        GetAsync($"attempts/{attemptId}/example", Wire.ExampleStanding, ct);

    public Task<ExampleStanding> MarkExampleAsync(Guid attemptId, MarkExample mark, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Put, $"attempts/{attemptId}/example", Body(mark, Wire.MarkExample), Wire.ExampleStanding, ct);

    public Task UnmarkExampleAsync(Guid attemptId, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Delete, $"attempts/{attemptId}/example", null, ct);

    private static string? Word(ComparedWith? with) => with is { } w ? JsonNamingPolicy.KebabCaseLower.ConvertName(w.ToString()) : null;

    /// <summary>Whether a drill has the school's example.</summary>
    public Task<DrillExampleLink> DrillExampleAsync(string slug, int? version = null, CancellationToken ct = default) =>
        GetAsync($"drills/{Escape(slug)}/example" + Query(("version", Text(version))), Wire.DrillExampleLink, ct);
}
