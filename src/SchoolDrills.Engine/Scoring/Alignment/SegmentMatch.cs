using System.Text.Json.Serialization;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Whether a segment was flown.</summary>
[JsonConverter(typeof(KebabCase<SegmentStatus>))]
public enum SegmentStatus
{
    /// <summary>From start to end.</summary>
    Flown,

    /// <summary>Begun but given up, or cut by the recording.</summary>
    Partial,

    /// <summary>Not flown.</summary>
    Skipped,
}

/// <summary>Where one segment of the drill was flown.</summary>
/// <param name="Index">Position in the drill.</param>
/// <param name="Status">Whether it was flown.</param>
/// <param name="StartS">When the pilot began it, seconds since the recording's epoch; NaN when skipped.</param>
/// <param name="EndS">When he began the next, seconds since the recording's epoch; NaN when skipped.</param>
public readonly record struct SegmentMatch(int Index, SegmentStatus Status, double StartS, double EndS)
{
    /// <summary>
    /// How long it was flown before the recording began, seconds; 0 for all but the first of a recording that begins inside it.
    /// </summary>
    public double CutS { get; init; }

    /// <summary>
    /// When an earlier rendition of a segment flown again was begun, seconds since the recording's epoch; null where it was flown once.
    /// </summary>
    public double? FirstStartS { get; init; }

    /// <summary>One standard deviation of <see cref="StartS"/>, seconds; 0 where an instructor put it or the recording cuts it.</summary>
    public double StartSigmaS { get; init; }

    /// <summary>One standard deviation of <see cref="EndS"/>, seconds; 0 where an instructor put it or the recording cuts it.</summary>
    public double EndSigmaS { get; init; }

    /// <summary>From when its targets run, seconds since the recording's epoch.</summary>
    public double AnchorS => StartS - CutS;

    /// <summary>Length as flown, seconds.</summary>
    public double DurationS => EndS - StartS;
}
