namespace SchoolDrills.Engine.Scoring;

/// <summary>Stages of scoring, reported while it runs.</summary>
public enum ScoringStage
{
    /// <summary>Sorting samples, removing jumps, marking gaps.</summary>
    Cleaning,

    /// <summary>Smoothing; wind, heading and airspeed.</summary>
    Reconstructing,

    /// <summary>Finding the drill and its segments.</summary>
    Aligning,

    /// <summary>Measuring and judging.</summary>
    Judging,
}
