using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Contracts;

/// <summary>What a school judges by and plans with.</summary>
public sealed partial class SchoolDrillsClient
{
    public Task<IReadOnlyList<ToleranceStandard>> StandardsAsync(CancellationToken ct = default) =>
        GetAsync("standards", Wire.IReadOnlyListToleranceStandard, ct);

    public Task<IReadOnlyList<AircraftProfile>> AircraftAsync(CancellationToken ct = default) =>
        GetAsync("aircraft", Wire.IReadOnlyListAircraftProfile, ct);
}
