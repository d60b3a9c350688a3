namespace SchoolDrills.Engine.Scoring;

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

    /// <summary>From when its targets run, seconds since the recording's epoch.</summary>
    public double AnchorS => StartS - CutS;

    /// <summary>Length as flown, seconds.</summary>
    public double DurationS => EndS - StartS;
}

/// <summary>Where the drill was flown in a recording.</summary>
/// <param name="Matches">One for every segment of the drill, in order.</param>
/// <param name="Confidence">How much better the drill explains the flight than "no drill here", 0 to 1.</param>
/// <param name="Aborted">Given up before its last segment.</param>
public sealed record Alignment(IReadOnlyList<SegmentMatch> Matches, double Confidence, bool Aborted)
{
    /// <summary>The recording begins inside the drill: segments before the first flown one could not be seen.</summary>
    public bool CutBefore { get; init; }

    /// <summary>The recording ends inside the drill: segments after the last flown one could not be seen.</summary>
    public bool CutAfter { get; init; }

    /// <summary>A segment that was flown, if at all, before the recording began or after it ended.</summary>
    /// <param name="index">The segment.</param>
    public bool OutsideRecording(int index) =>
        Matches[index].Status == SegmentStatus.Skipped
        && ((CutBefore && index < Flown.First().Index) || (CutAfter && index > Flown.Last().Index));

    /// <summary>When the drill's clock read zero, seconds since the recording's epoch.</summary>
    public double ClockStartS { get; init; }

    /// <summary>Segments that were flown at least in part.</summary>
    public IEnumerable<SegmentMatch> Flown => Matches.Where(m => m.Status != SegmentStatus.Skipped);

    /// <summary>Start of the first flown segment, seconds.</summary>
    public double StartS => Flown.First().StartS;

    /// <summary>End of the last flown segment, seconds.</summary>
    public double EndS => Flown.Last().EndS;
}
