namespace SchoolDrills.Engine.Scoring;

/// <summary>What a recording held.</summary>
public sealed record RecordingSummary
{
    /// <summary>Format it was written in.</summary>
    public required string Format { get; init; }

    /// <summary>Samples used.</summary>
    public required int Samples { get; init; }

    /// <summary>Records not used.</summary>
    public required int Dropped { get; init; }

    /// <summary>Gaps across which nothing was filled in.</summary>
    public required int Gaps { get; init; }

    /// <summary>First sample.</summary>
    public required DateTimeOffset StartUtc { get; init; }

    /// <summary>Last sample.</summary>
    public required DateTimeOffset EndUtc { get; init; }

    /// <summary>Median time between samples, seconds.</summary>
    public required double MedianIntervalS { get; init; }

    /// <summary>What each column was taken from.</summary>
    public required IReadOnlyDictionary<string, string> Columns { get; init; }
}
