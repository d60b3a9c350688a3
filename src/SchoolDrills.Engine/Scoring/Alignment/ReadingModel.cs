namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// The generative model of a flight that <see cref="ReadingSearch"/> reads: how a pilot flies a drill, and what he flies otherwise.
/// For the meaning of each basis see <see cref="HandlingModel"/>.
/// </summary>
internal static class ReadingModel
{
    /// <summary>Logarithm of Student's density with three degrees of freedom at its peak: 2 / (π √3).</summary>
    /// <remarks>Basis: the distribution's formula.</remarks>
    public const double LogStudent3Peak = -1.0009;

    /// <summary>For how long a deviation from a held rate lasts, seconds.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double CorrelationS = 6.9;

    /// <summary>Scale of the scatter about a held turn rate, degrees per second, and a held vertical speed, feet per minute.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double TurnRateScaleDegPerS = 1.11,
        VerticalSpeedScaleFpm = 223;

    /// <summary>For how long general handling holds one turn rate or one vertical speed, seconds.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double ManeuverMeanS = 76;

    /// <summary>Probability that a pilot leaves out a maneuver, or a straight.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double SkippedManeuver = 0.0014,
        SkippedStraight = 0.0235;

    /// <summary>Probability of other flight between two segments, and its mean length, seconds.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double OtherFlight = 0.0123,
        OtherFlightMeanS = 34.5;

    /// <summary>Log odds of a moment on the ground as part of a drill.</summary>
    /// <remarks>Basis: common practice: drills are flown.</remarks>
    public const double OnGroundLogOdds = -20;

    /// <summary>Probability that the drill is given up after a segment.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double GivenUp = 0.0026;

    /// <summary>Probability that a maneuver is flown again at once.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double FlownAgain = 0.005;

    /// <summary>Probability that a turn is flown to the wrong side throughout.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double WrongWay = 0.004;

    /// <summary>Scale of the error of a turn's end, degrees, and of a climb's or descent's, feet.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double TurnEndDeg = 3.9,
        ClimbEndFt = 57;

    /// <summary>
    /// Share of turns and climbs that end at the drill's own heading and altitude; the others end as far from where they began as planned.
    /// </summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double FromEntry = 0.9;

    /// <summary>
    /// A turn or climb this much longer or shorter than planned, in scales of its end, corrects nothing: it is another one.
    /// </summary>
    /// <remarks>Basis: common practice: some 60° or 850 ft.</remarks>
    public const double LongestCorrection = 15;

    /// <summary>Probability that such another one is flown in a segment's place.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double AnotherInstead = 0.01;

    /// <summary>Flight before and after a first reading in which the second looks, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double SecondLookS = 240;

    /// <summary>Scale of the error of a change of airspeed, knots.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double SpeedEndKt = 8;

    /// <summary>
    /// Scatter of a straight's length as a share of the nominal, and its least, seconds; the share of straights whose length the clock
    /// does not rule, and the scatter of their logarithm.
    /// </summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double StraightScatterShare = 0.053,
        StraightScatterS = 2,
        UntimedShare = 0.15,
        UntimedScatter = 0.5;

    /// <summary>Shortest straight as a share of its nominal length: between maneuvers it is what the pilot makes of it.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double ShortestStraight = 0.15;

    /// <summary>
    /// Straight flight looked for before a maneuver that opens the drill and after one that closes it, seconds, and the probability that
    /// there is none.
    /// </summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double FlankS = 20,
        NoFlank = 0.2;

    /// <summary>A turn goes on beyond the drill's while it holds this share of its rate.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double GoesOnShare = 0.5;

    /// <summary>Probability that the recording begins, or ends, inside the drill.</summary>
    /// <remarks>Basis: common practice: recorders run from start-up to shut-down.</remarks>
    public const double CutByRecording = 0.05;

    /// <summary>Probability that the drill is flown to the side that was not planned.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double OtherSide = 0.1;

    /// <summary>
    /// Log odds by which a reading may be behind the best in a first look and still be looked at again, and the share of likelihood from
    /// which it is told beside the other.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double OutOfTheQuestion = 6,
        WorthTelling = 0.1;

    /// <summary>Confidence of the likeliest reading below which the others are not looked at again.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double HardlyADrill = 0.2;

    /// <summary>Readings looked at again at most, and how far apart their ends are, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const int MostReadings = 4;

    /// <inheritdoc cref="MostReadings"/>
    public const double EndingsApartS = 30;

    /// <summary>Neither a start nor a stretch with log odds this far below the best is followed.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double HopelessLogOdds = -40;

    /// <summary>Turn rates that general handling holds, degrees per second.</summary>
    /// <remarks>Basis: common practice: drift, half rate, standard rate, medium and steep turns, either way.</remarks>
    public static readonly double[] GeneralTurnsDegPerS = [0, 1.3, 2.2, 3, 4.2, 6, 8.5, 11, 14, -1.3, -2.2, -3, -4.2, -6, -8.5, -11, -14];

    /// <summary>Vertical speeds that general handling holds, feet per minute.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public static readonly double[] GeneralClimbsFpm = [0, 330, 500, 700, 1000, -330, -500, -700, -1000];

    /// <summary>Shares of a planned rate that pilots fly instead, with how often.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public static readonly (double Share, double Probability)[] Rates =
    [
        (1, 0.3),
        (0.87, 0.22),
        (1.15, 0.22),
        (0.73, 0.1),
        (1.35, 0.08),
        (0.55, 0.04),
        (1.65, 0.02),
        (0.4, 0.02),
    ];

    /// <summary>Vertical speeds at which level flight drifts, feet per minute, with how often.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public static readonly (double Fpm, double Probability)[] LevelDrifts = [(0, 0.8), (150, 0.1), (-150, 0.1)];
}
