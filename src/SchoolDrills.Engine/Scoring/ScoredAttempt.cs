namespace SchoolDrills.Engine.Scoring;

/// <summary>A report with the columns for its plots.</summary>
/// <param name="Report">The report.</param>
/// <param name="Columns">Reconstructed flight for plots.</param>
public sealed record ScoredAttempt(ScoreReport Report, TrackColumns Columns);
