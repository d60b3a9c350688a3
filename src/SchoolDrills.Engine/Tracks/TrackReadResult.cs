namespace SchoolDrills.Engine.Tracks;

/// <summary>Either a recording or the one reason why there is none.</summary>
/// <param name="Track">The recording, null when it could not be read.</param>
/// <param name="Problem">Why not, null when it could.</param>
public sealed record TrackReadResult(Track? Track, TrackProblem? Problem);

/// <summary>Why a file could not be read.</summary>
/// <param name="Kind">What sort of trouble.</param>
/// <param name="Message">One sentence: where, what was expected, what to do.</param>
/// <param name="Line">Line or record number, from 1, where that can be told.</param>
public sealed record TrackProblem(TrackProblemKind Kind, string Message, int? Line = null);

/// <summary>Sorts of trouble with a file.</summary>
public enum TrackProblemKind
{
    /// <summary>No bytes at all.</summary>
    Empty,

    /// <summary>Not one of the formats read here.</summary>
    UnknownFormat,

    /// <summary>The format is known, the content is not usable.</summary>
    Unreadable,

    /// <summary>Over one of the limits on bytes or samples.</summary>
    TooLarge,
}

/// <summary>Limits and help for a reader.</summary>
public sealed record TrackReadOptions
{
    /// <summary>Most bytes as sent.</summary>
    public long MaxRawBytes { get; init; } = 64L * 1024 * 1024;

    /// <summary>Most bytes after inflating.</summary>
    public long MaxInflatedBytes { get; init; } = 256L * 1024 * 1024;

    /// <summary>Most samples.</summary>
    public int MaxSamples { get; init; } = 500_000;

    /// <summary>The person's own mapping for CSV: our column name to the recording's header; null to find columns by name.</summary>
    public IReadOnlyDictionary<string, string>? ColumnMapping { get; init; }
}
