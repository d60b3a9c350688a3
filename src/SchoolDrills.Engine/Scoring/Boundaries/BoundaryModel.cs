namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// Where boundaries are looked for, and what tells the drill's clock. For the meaning of each basis see <see cref="HandlingModel"/>.
/// </summary>
internal static class BoundaryModel
{
    /// <summary>How far from where it is expected a breakpoint is looked for, seconds.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double SearchS = 9;

    /// <summary>Flight used on either side of a breakpoint, seconds.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double FitBeforeS = 12,
        FitAfterS = 14;

    /// <summary>Least and most that the rate may change at a breakpoint, as shares of the planned change.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double LeastChangeShare = 0.35,
        MostChangeShare = 2.5;

    /// <summary>
    /// Without a sample for longer than this, seconds, or this many intervals, the search around a breakpoint is widened.
    /// </summary>
    /// <remarks>Basis: fitted on simulated dropouts in the recorded truth flights.</remarks>
    public const double LongGapS = 5,
        LongGapIntervals = 4;

    /// <summary>
    /// Shares of the segment before a boundary and of the one after it that may hold those segments' other boundaries, and so stay out of
    /// the search.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double OutBeforeShare = 0.3,
        OutAfterShare = 0.2;

    /// <summary>Turn rate, as a share of the planned one, above which the last of a turn is not yet rolled out of.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double TurningShare = 0.5;

    /// <summary>
    /// Least time from the start of the turn that closes the drill to its roll-out, and from a level-off to the end of its segment,
    /// seconds.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double TurnEstablishedS = 5,
        LevelOffMarginS = 5;

    /// <summary>
    /// A closing straight whose end by the clock makes it this much longer or shorter than planned ends by its own length, seconds.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double ClosingStraightMostOffS = 20;

    /// <summary>A new climb begins in this last share of the segment before it.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double ClimbFromShare = 0.5;

    /// <summary>
    /// Flight used before and after the moment at which a new climb has begun, how far from there its breakpoint is looked for, and how
    /// long before it the aeroplane may have been level, seconds.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double ClimbBeforeS = 12,
        ClimbAfterS = 7,
        ClimbSearchS = 5,
        LevelBeforeClimbS = 6;

    /// <summary>Straights whose ends vote on when the clock was started.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const int ClockVotes = 5;

    /// <summary>Votes this close agree, seconds.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double ClockAgreeS = 2;

    /// <summary>
    /// How much later than the first straight's a clock must be to be believed, seconds: a pilot who times each straight by itself falls
    /// behind in smaller steps.
    /// </summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double ClockJumpS = 6;
}
