namespace SchoolDrills.Engine.Tracks;

/// <summary>A recording, or the one reason why there is none.</summary>
/// <param name="Track">The recording, null when it could not be read.</param>
/// <param name="Problem">Why not, null when it could.</param>
public sealed record TrackReadResult(Track? Track, TrackProblem? Problem)
{
    /// <summary>The header of a CSV, read or not, from which columns can be mapped manually; null for other formats.</summary>
    public TrackHeader? Header => Track?.Header ?? Problem?.Header;
}

/// <summary>Why a file could not be read.</summary>
/// <param name="Kind">Kind of problem.</param>
/// <param name="Message">One sentence: where, what was expected, what to do.</param>
/// <param name="Line">Line or record number, from 1, where it is known.</param>
public sealed record TrackProblem(TrackProblemKind Kind, string Message, int? Line = null)
{
    /// <summary>The header of a CSV that could not be used; a mapping of its columns may help.</summary>
    public TrackHeader? Header { get; init; }
}

/// <summary>Kinds of problems with a file.</summary>
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

    /// <summary>
    /// A person's choice of the columns of a CSV: name of a quantity (<see cref="ColumnQuantity"/>) to its column. It takes precedence over
    /// the names; quantities that it does not mention are found by name. Null to find all by name; ignored for other formats.
    /// </summary>
    public IReadOnlyDictionary<string, ColumnChoice>? ColumnMapping { get; init; }

    /// <summary>The mapping was not given for this recording but remembered from one with the same header; its warnings say so.</summary>
    public bool ColumnMappingIsRemembered { get; init; }
}
