namespace SchoolDrills.Engine.Scoring;

/// <summary>Where the drill was flown in a recording.</summary>
/// <param name="Matches">One for every segment of the drill, in order.</param>
/// <param name="Confidence">How sure it is that the drill was flown, 0 to 1.</param>
/// <param name="Aborted">Ended by the pilot before its last maneuver was done.</param>
public sealed record Alignment(IReadOnlyList<SegmentMatch> Matches, double Confidence, bool Aborted)
{
    /// <summary>Log odds that the flight is this drill, so read, against general handling.</summary>
    public double LogOdds { get; init; }

    /// <summary>The recording begins inside the drill: segments before the first flown one could not be seen.</summary>
    public bool CutBefore { get; init; }

    /// <summary>The recording ends inside the drill: segments after the last flown one could not be seen.</summary>
    public bool CutAfter { get; init; }

    /// <summary>
    /// A segment of which the flight does not show whether it was flown: it lies outside the recording, or is the straight that closes a
    /// drill of which every maneuver was flown.
    /// </summary>
    /// <param name="index">The segment.</param>
    public bool IsUnseen(int index) =>
        Matches[index].Status == SegmentStatus.Skipped
        && ((CutBefore && index < Flown.First().Index) || (!Aborted && index > Flown.Last().Index));

    /// <summary>
    /// Tells the same of a flight: given up or not, and no more than one segment in five is elsewhere, or flown here and not there.
    /// </summary>
    internal bool Resembles(Alignment other) =>
        Aborted == other.Aborted
        && Matches
            .Zip(other.Matches)
            .Count(pair =>
                (pair.First.Status == SegmentStatus.Skipped) != (pair.Second.Status == SegmentStatus.Skipped)
                || Math.Min(pair.First.EndS, pair.Second.EndS) < Math.Max(pair.First.StartS, pair.Second.StartS)
            )
            <= Matches.Count / 5;

    /// <summary>When the instructor stopped the drill, seconds since the recording's epoch; null where he did not.</summary>
    public double? StoppedS { get; init; }

    /// <summary>
    /// When the first pause began, seconds since the recording's epoch: what was ended after it tells nothing of the drill's clock.
    /// </summary>
    public double FirstPauseS { get; init; } = double.PositiveInfinity;

    /// <summary>The same drill up to a moment at which it was stopped: what was flown after it is not part of it.</summary>
    /// <param name="stoppedS">When, after its start, seconds since the recording's epoch; null where it was not.</param>
    internal Alignment StoppedAt(double? stoppedS) =>
        stoppedS is not { } atS
            ? this
            : this with
            {
                StoppedS = atS,
                Aborted = false,
                CutAfter = false,
                Matches =
                [
                    .. Matches.Select(m =>
                        m.Status == SegmentStatus.Skipped || m.EndS <= atS ? m
                        : m.StartS < atS ? m with { Status = SegmentStatus.Partial, EndS = atS, EndSigmaS = 0 }
                        : new SegmentMatch(m.Index, SegmentStatus.Skipped, double.NaN, double.NaN)
                    ),
                ],
            };

    /// <summary>When the drill's clock read zero, seconds since the recording's epoch.</summary>
    public double ClockStartS { get; init; }

    /// <summary>Segments that were flown at least in part.</summary>
    public IEnumerable<SegmentMatch> Flown => Matches.Where(m => m.Status != SegmentStatus.Skipped);

    /// <summary>Start of the first flown segment, seconds.</summary>
    public double StartS => Flown.First().StartS;

    /// <summary>End of the last flown segment, seconds.</summary>
    public double EndS => Flown.Last().EndS;
}
