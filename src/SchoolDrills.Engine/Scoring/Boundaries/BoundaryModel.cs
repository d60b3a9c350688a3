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

    /// <summary>Least time from a level-off to the end of its segment, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double LevelOffMarginS = 5;

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

    /// <summary>For how long the scatter about a fitted breakpoint lasts, seconds: so far apart samples tell something new.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double ScatterLastsS = 6;

    /// <summary>Scale of the change of the rate at a breakpoint about the planned one, as a logarithm.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double ChangeScatter = 0.2;

    /// <summary>
    /// How far the first movement of a roll, and of a pitch, is ahead of the boundary as found with the segments, seconds, and the scale of
    /// its scatter: rates show a change when half of it is done.
    /// </summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double RollAheadS = 3,
        AheadScaleS = 1,
        PitchAheadS = 4.8,
        PitchAheadScaleS = 1.7;

    /// <summary>Least sigma of a roll's beginning, and of a pitch's, seconds, and how many times their own likelihoods' it is.</summary>
    /// <remarks>Basis: fitted on simulated flights, so that two sigma cover 95 in 100 rolls and 92 pitches.</remarks>
    public const double LeastRollSigmaS = 0.6,
        RollSpread = 2.5,
        LeastPitchSigmaS = 1.2,
        PitchSpread = 5;

    /// <summary>
    /// Sigma of a level-off and of a climb's beginning told by vertical speed alone, of a reversal told by the heading passed, of a
    /// roll-out told by the last of the turn, and of a boundary that nothing shows, seconds.
    /// </summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double LevelOffSigmaS = 5,
        ClimbBegunSigmaS = 2,
        PassedSigmaS = 2,
        WingsLevelSigmaS = 10,
        UnrefinedSigmaS = 10;

    /// <summary>Sigma of the outer end of a straight that opens the drill, and of one that closes it, by the clock, seconds.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double ClockSigmaS = 2,
        ClosingSigmaS = 5;

    /// <summary>A climb or descent may be levelled off from once this share of its height is flown.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double LevelFromShare = 0.6;

    /// <summary>
    /// A climb or descent that slows down within this many usual leads of its altitude, and stays slower for this long, seconds, is
    /// levelled off from.
    /// </summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double NearLevelLeads = 2,
        SlowerS = 6;

    /// <summary>
    /// Flight before a maneuver that opens the drill, and after one that closes it, in which its ends are looked for, seconds.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double OuterS = 30;

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
