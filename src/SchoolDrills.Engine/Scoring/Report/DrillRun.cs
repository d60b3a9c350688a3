namespace SchoolDrills.Engine.Scoring;

/// <summary>One run of the drill within a recording that may hold several, or another reading of one.</summary>
/// <param name="Index">Its place: runs in time from 0, then other readings.</param>
/// <param name="StartUtc">From.</param>
/// <param name="EndUtc">To.</param>
/// <param name="Confidence">As for the report.</param>
/// <param name="Mirrored">Flown mirrored against what was planned.</param>
/// <param name="Scored">The one that the report is about.</param>
public sealed record DrillRun(int Index, DateTimeOffset StartUtc, DateTimeOffset EndUtc, double Confidence, bool Mirrored, bool Scored)
{
    /// <summary>The run of which this is another reading; null for a run.</summary>
    public int? ReadingOf { get; init; }

    /// <summary>How likely this reading is beside the others of the same stretch, 0 to 1.</summary>
    public double Share { get; init; } = 1;

    /// <summary>Read so, the pilot ended the drill before its last segment was done.</summary>
    public bool GivenUp { get; init; }
}
