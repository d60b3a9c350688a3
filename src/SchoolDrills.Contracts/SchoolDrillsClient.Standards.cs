using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Contracts;

/// <summary>What a school judges by and plans with.</summary>
public sealed partial class SchoolDrillsClient
{
    /// <summary>Every standard, retired ones too: what was judged by one is explained by it.</summary>
    public Task<IReadOnlyList<ToleranceStandard>> StandardsAsync(CancellationToken ct = default) =>
        GetAsync("standards", Wire.IReadOnlyListToleranceStandard, ct);

    /// <summary>Those to choose from: neither retired nor followed by a next edition.</summary>
    public Task<IReadOnlyList<ToleranceStandard>> OfferedStandardsAsync(CancellationToken ct = default) =>
        GetAsync("standards?offered=true", Wire.IReadOnlyListToleranceStandard, ct);

    public Task<IReadOnlyList<StandardEdition>> StandardEditionsAsync(CancellationToken ct = default) =>
        GetAsync("standards/editions", Wire.IReadOnlyListStandardEdition, ct);

    public Task<ToleranceStandard> AddStandardAsync(ToleranceStandard standard, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "standards", Body(standard, Wire.ToleranceStandard), Wire.ToleranceStandard, ct);

    /// <summary>Publishes the next versions of drills, judged by this standard.</summary>
    public Task<IReadOnlyList<DrillSummary>> UseStandardAsync(string slug, IReadOnlyList<string> drills, CancellationToken ct = default) =>
        SendAsync(
            HttpMethod.Post,
            $"standards/{Escape(slug)}/use",
            Body(new UseStandard(drills), Wire.UseStandard),
            Wire.IReadOnlyListDrillSummary,
            ct
        );

    public Task RetireStandardAsync(string slug, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, $"standards/{Escape(slug)}/retire", null, ct);

    public Task ReinstateStandardAsync(string slug, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, $"standards/{Escape(slug)}/reinstate", null, ct);

    public Task<IReadOnlyList<AircraftProfile>> AircraftAsync(CancellationToken ct = default) =>
        GetAsync("aircraft", Wire.IReadOnlyListAircraftProfile, ct);

    /// <summary>Every version of every aircraft profile, newest first within each.</summary>
    public Task<IReadOnlyList<AircraftVersion>> AircraftVersionsAsync(CancellationToken ct = default) =>
        GetAsync("aircraft/versions", Wire.IReadOnlyListAircraftVersion, ct);

    /// <summary>Adds an aircraft profile, or the next version of one.</summary>
    public Task<AircraftProfile> SaveAircraftAsync(AircraftProfile profile, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "aircraft", Body(profile, Wire.AircraftProfile), Wire.AircraftProfile, ct);

    public Task RetireAircraftAsync(string slug, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, $"aircraft/{Escape(slug)}/retire", null, ct);
}
