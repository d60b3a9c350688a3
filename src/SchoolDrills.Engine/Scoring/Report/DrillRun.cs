namespace SchoolDrills.Engine.Scoring;

/// <summary>One run of the drill within a recording that may hold several.</summary>
/// <param name="Index">Its place in time, from 0.</param>
/// <param name="StartUtc">From.</param>
/// <param name="EndUtc">To.</param>
/// <param name="Confidence">As for the report.</param>
/// <param name="Mirrored">Flown mirrored against what was planned.</param>
/// <param name="Scored">The one that the report is about.</param>
public sealed record DrillRun(int Index, DateTimeOffset StartUtc, DateTimeOffset EndUtc, double Confidence, bool Mirrored, bool Scored);
