namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// Stretches of a recording that an instructor excluded, and pauses noted on board: they count neither within nor outside tolerance.
/// </summary>
public sealed class ExcludedTime
{
    /// <summary>Nothing is excluded.</summary>
    public static readonly ExcludedTime None = new([], []);

    private readonly (double StartS, double EndS)[] pauses;
    private readonly (double StartS, double EndS)[] stretches;

    private ExcludedTime((double StartS, double EndS)[] pauses, (double StartS, double EndS)[] byHand) =>
        (this.pauses, stretches) = (pauses, [.. pauses, .. byHand]);

    /// <summary>The stretches on a recording's clock.</summary>
    /// <param name="corrections">The instructor's corrections; null for none.</param>
    /// <param name="paused">Pauses noted on board.</param>
    /// <param name="epochUtc">The recording's epoch.</param>
    public static ExcludedTime Of(ManualCorrections? corrections, IReadOnlyList<PausedTime> paused, DateTimeOffset epochUtc) =>
        new(
            [.. paused.Select(p => (S(p.FromUtc, epochUtc), S(p.ToUtc, epochUtc)))],
            [.. (corrections?.Excluded ?? []).Select(s => (S(s.StartUtc, epochUtc), S(s.EndUtc, epochUtc)))]
        );

    private static double S(DateTimeOffset atUtc, DateTimeOffset epochUtc) => (atUtc - epochUtc).TotalSeconds;

    /// <summary>A moment is excluded.</summary>
    /// <param name="timeS">Seconds since the recording's epoch.</param>
    public bool Covers(double timeS) => Array.Exists(stretches, s => timeS >= s.StartS && timeS < s.EndS);

    /// <summary>
    /// Part of a span is a pause. Flying was broken off there, so that what is to be flown by the clock runs on from an unknown moment;
    /// where time was excluded by hand the student flew on.
    /// </summary>
    /// <param name="startS">From, seconds since the recording's epoch.</param>
    /// <param name="endS">To, seconds since the recording's epoch.</param>
    public bool PausedIn(double startS, double endS) => Array.Exists(pauses, s => s.StartS < endS && s.EndS > startS);

    /// <summary>Time of a span that is paused, seconds.</summary>
    /// <param name="startS">From, seconds since the recording's epoch.</param>
    /// <param name="endS">To, seconds since the recording's epoch.</param>
    public double PausedS(double startS, double endS)
    {
        var (pausedS, untilS) = (0.0, startS);
        // Traffic may be avoided by the instructor: where two overlap, time counts once.
        foreach (var (fromS, toS) in pauses.OrderBy(p => p.StartS))
        {
            pausedS += Math.Max(0, Math.Min(toS, endS) - Math.Max(fromS, untilS));
            untilS = Math.Max(untilS, Math.Min(toS, endS));
        }

        return pausedS;
    }

    /// <summary>When the first pause began, seconds since the recording's epoch; infinity where there is none.</summary>
    public double FirstPauseS => pauses.Select(s => s.StartS).DefaultIfEmpty(double.PositiveInfinity).Min();

    /// <summary>Part of a span is excluded.</summary>
    /// <param name="startS">From, seconds since the recording's epoch.</param>
    /// <param name="endS">To, seconds since the recording's epoch.</param>
    public bool Touches(double startS, double endS) => Array.Exists(stretches, s => s.StartS < endS && s.EndS > startS);
}
