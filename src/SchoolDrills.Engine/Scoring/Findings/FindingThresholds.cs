namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// What an instructor would mention: sizes from which something is a finding, a hint or an episode, and what each weighs beside the
/// others. For the meaning of each basis see <see cref="HandlingModel"/>.
/// </summary>
internal static class FindingThresholds
{
    /// <summary>Most findings reported.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const int MostFindings = 10;

    /// <summary>A finding is told from this probability upward.</summary>
    /// <remarks>Basis: common practice: below it the finding is more likely false than true.</remarks>
    public const double LeastProbability = 0.5;

    /// <summary>
    /// How often the flight about a finding is read rightly: about a drill given up, a segment left out, a turn to the wrong side, and
    /// any other.
    /// </summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double AbortedRight = 0.79,
        SkippedRight = 0.65,
        WrongWayRight = 0.85,
        UsuallyRight = 0.94;

    /// <summary>The one of them for a kind of finding.</summary>
    public static double RightlyRead(FindingKind kind) =>
        kind switch
        {
            FindingKind.Aborted => AbortedRight,
            FindingKind.SkippedSegment => SkippedRight,
            FindingKind.WrongDirection => WrongWayRight,
            _ => UsuallyRight,
        };

    /// <summary>For how long an error of a measured rate lasts, seconds: the mean over longer is surer.</summary>
    /// <remarks>Basis: common practice: some lengths of the smoothing.</remarks>
    public const double RateErrorLastsS = 7;

    /// <summary>What a mirrored drill, an aborted one, a skipped segment and a turn to the wrong side weigh: before all else.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double MirroredWeight = 10,
        AbortedWeight = 9,
        SkippedWeight = 6,
        WrongWayWeight = 5;

    /// <summary>A straight held longer or shorter than planned by this much, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double TimingS = 8;

    /// <summary>Time lost or gained in a turn that the straight after it is expected to make good, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double MadeGoodS = 3;

    /// <summary>Heading past or short of the roll-out heading, degrees.</summary>
    /// <remarks>Basis: twice the 5° of Part-FCL App. 7, rounded up for GPS.</remarks>
    public const double RollOutDeg = 12;

    /// <summary>Altitude past or short at the level-off, feet.</summary>
    /// <remarks>Basis: the 100 ft of FAA-S-ACS-8C, rounded up for GPS.</remarks>
    public const double LevelOffFt = 110;

    /// <summary>What an overshoot weighs beside an undershoot of the same size: of a roll-out and of a level-off.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double RollOutOvershootWeight = 1.5,
        LevelOffOvershootWeight = 1.3;

    /// <summary>Mean rate off by this much, feet per minute and degrees per second, over at least so many seconds.</summary>
    /// <remarks>Basis: 200 fpm: US syllabus standard for pattern drills; 0.8°/s common practice.</remarks>
    public const double MeanVerticalSpeedFpm = 200,
        MeanTurnRateDegPerS = 0.8,
        LeastRateS = 12;

    /// <summary>
    /// A turn whose mean rate is beyond this share of the planned one to the other side was flown the wrong way throughout.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double TurnedShare = 0.4;

    /// <summary>
    /// Heading turned the wrong way, what rolling out of a turn to the other side carries on, and how far past the turn's heading the
    /// aeroplane may still have been, so that coming back to it is not a turn away from it, degrees.
    /// </summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double WrongWayDeg = 10,
        CarryDeg = 10,
        MostPastDeg = 90;

    /// <summary>Time after a segment in which its roll-out and level-off are looked at, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double RollOutLookS = 12,
        LevelOffLookS = 20;

    /// <summary>
    /// Time outside that makes a drift at the edge of the tolerance, less in proportion the farther it went, and the longest pause in one
    /// that goes on, seconds.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double DriftS = 8,
        DriftPauseS = 2;

    /// <summary>Time outside at which a drift weighs its size, seconds, and the most that a longer one adds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double DriftWeighsS = 15,
        MostDriftWeight = 2;

    /// <summary>What airspeed weighs beside altitude and heading.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double AirspeedWeight = 0.8;

    /// <summary>A drift that begins within this time of a load task is reported with it, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double LoadTaskWakeS = 30;

    /// <summary>
    /// A check noted this long before its window opens was done for it, and this long after it closes was still in it, seconds.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double CheckEarlyS = 15,
        CheckGraceS = 3;

    /// <summary>A note that names no check is taken for one whose window closed no longer ago, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double UnnamedCheckS = 30;

    /// <summary>What a missed check and a late one weigh.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double MissedCheckWeight = 3,
        LateCheckWeight = 1.5;

    /// <summary>Most scan hints of a kind.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const int MostHints = 2;

    /// <summary>
    /// Time outside that suggests a way of scanning rather than a lapse, and time without a correction that suggests it went unread,
    /// seconds.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double LongLapseS = 15,
        UnreadS = 12;

    /// <summary>
    /// Mean deviation of a parameter held unusually tight: as a share of its tolerance, and of its own mean over the drill; and the most
    /// that its sigma may be, as a share of its tolerance, for that to show.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double TightShare = 0.25,
        TighterShare = 0.6,
        TightSigmaShare = 0.25;

    /// <summary>Segments in which one parameter is favoured and another outside that make it a habit.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const int Habit = 3;

    /// <summary>Parameters outside together that make saturation.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const int SaturatedParameters = 2;

    /// <summary>Shortest saturation episode, and shortest pause that parts two, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double ShortestEpisodeS = 8,
        EpisodePauseS = 15;

    /// <summary>
    /// Least share of an episode in which two or more parameters were outside together: gusts put the turn rate outside for moments.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double TogetherShare = 0.4;
}
