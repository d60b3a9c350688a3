using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>A time when several parameters were out together after having been in.</summary>
/// <param name="StartUtc">From.</param>
/// <param name="EndUtc">To.</param>
/// <param name="Parameters">Which.</param>
/// <param name="Peak">How bad at the worst moment, 0 to 1.</param>
public sealed record SaturationEpisode(DateTimeOffset StartUtc, DateTimeOffset EndUtc, IReadOnlyList<Parameter> Parameters, double Peak);
