namespace SchoolDrills.Engine.Scoring;

/// <summary>Where one segment of the drill was flown.</summary>
/// <param name="Index">Position in the drill.</param>
/// <param name="Status">Whether it was flown.</param>
/// <param name="StartS">When the pilot began it, seconds since the recording's epoch; NaN when skipped.</param>
/// <param name="EndS">When he began the next, seconds since the recording's epoch; NaN when skipped.</param>
public readonly record struct SegmentMatch(int Index, SegmentStatus Status, double StartS, double EndS)
{
    /// <summary>Length as flown, seconds.</summary>
    public double DurationS => EndS - StartS;
}

/// <summary>Where the drill was flown in a recording.</summary>
/// <param name="Matches">One for every segment of the drill, in order.</param>
/// <param name="Confidence">How much better the drill explains the flight than "no drill here", 0 to 1.</param>
/// <param name="Aborted">Given up before its last segment.</param>
public sealed record Alignment(IReadOnlyList<SegmentMatch> Matches, double Confidence, bool Aborted)
{
    /// <summary>When the drill's clock read zero, seconds since the recording's epoch.</summary>
    public double ClockStartS { get; init; }

    /// <summary>Segments that were flown at least in part.</summary>
    public IEnumerable<SegmentMatch> Flown => Matches.Where(m => m.Status != SegmentStatus.Skipped);

    /// <summary>Start of the first flown segment, seconds.</summary>
    public double StartS => Flown.First().StartS;

    /// <summary>End of the last flown segment, seconds.</summary>
    public double EndS => Flown.Last().EndS;
}
