namespace SchoolDrills.Engine.Reconstruction;

/// <summary>
/// What the wind solution assumes about the wind and about how pilots hold airspeed and heading. A sigma is one standard deviation.
/// </summary>
internal static class WindModel
{
    /// <summary>
    /// Prior sigmas: wind per axis, knots; its change, knots per 1,000 ft; what a 500 fpm climb or a standard-rate turn costs of the
    /// airspeed, knots; the same of a climb, and of a climb or descent, where the airspeed is neither planned nor recorded.
    /// </summary>
    /// <remarks>Basis: common practice: trainers climb and approach some 10 to 20 kt slower than they cruise.</remarks>
    public const double PriorWindKt = 25,
        PriorShearKtPerKft = 3.5,
        PriorCostKt = 1,
        PriorClimbKt = 5;

    /// <summary>
    /// What airspeeds that go with the direction flown, as in circuits, add to the wind solved from them: sigma per axis, knots, where all
    /// climbing does. It counts by the mean square of such climb, in units of 500 fpm.
    /// </summary>
    /// <remarks>Basis: fitted on simulated flights with circuits.</remarks>
    public const double DirectedClimbKt = 24;

    /// <summary>
    /// Prior sigma of the mean airspeed, knots: about the planned airspeed, and about the mean ground speed when none is planned.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double PlannedAirspeedSigmaKt = 3,
        UnplannedAirspeedSigmaKt = 30;

    /// <summary>
    /// Time in which a pilot corrects an airspeed deviation, seconds, and how long one size of deviation lasts, seconds.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double CorrectionS = 14,
        DeviationGroupS = 30;

    /// <summary>
    /// How much the level of the airspeed walks where the airspeeds to hold are not known, as a share of the size of a deviation per √s.
    /// </summary>
    /// <remarks>Basis: fitted on simulated flights with climbs, cruise and approaches.</remarks>
    public const double LevelPerRootS = 0.15;

    /// <summary>Degrees of freedom of the t-distributions of airspeed and heading deviations.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights and on simulated flights.</remarks>
    public const double AirspeedFreedom = 3,
        HeadingFreedom = 5;

    /// <summary>
    /// Usual deviation of airspeed, knots, and of the heading of a straight, degrees, and the number of observations each counts for.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double UsualAirspeedDeviationKt = 1.5,
        UsualHeadingDeviationDeg = 2,
        UsualDeviationWeight = 4;

    /// <summary>Airspeed deviation with which the solution starts, and the least it can come to, knots.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double FirstAirspeedDeviationKt = 3,
        LeastAirspeedDeviationKt = 0.8;

    /// <summary>
    /// Where airspeed or heading is recorded without the other: usual deviation of it, knots, along or across the heading, the least it can
    /// come to, and factor on the sigma of the solution.
    /// </summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double UsualRecordedDeviationKt = 1,
        LeastRecordedDeviationKt = 0.4,
        RecordedSigmaFactor = 1.7;

    /// <summary>
    /// Prior sigma of the steady error of a recorded airspeed, as a share of it, and of a recorded heading, degrees.
    /// </summary>
    /// <remarks>Basis: common practice: position error and the day's temperature; deviation cards show some 2°.</remarks>
    public const double AirspeedErrorShare = 0.03,
        HeadingErrorDeg = 2;

    /// <summary>Airspeed or heading recorded for less of the flight is not used for the wind.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double RecordedShare = 0.8;

    /// <summary>Length of a block of ground velocity, seconds, and sigma of its mean, knots: airspeed does not change faster.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double BlockS = 5,
        BlockSigmaKt = 0.2;

    /// <summary>
    /// Factor on the sigma of the solution, without and with the airspeeds to hold: deviations are only nearly of second order, and their
    /// size is taken from the same data.
    /// </summary>
    /// <remarks>Basis: fitted on synthetic flights made by that process, and on the recorded truth flights and simulated ones.</remarks>
    public const double SigmaFactor = 1.7,
        PlannedSigmaFactor = 1.4;

    /// <summary>
    /// How far the wind walks in an hour, knots per axis and √h; its change with height as a share of that for each thousand feet; how far
    /// the wind walks with height about an even change, knots per axis and √(1,000 ft).
    /// </summary>
    /// <remarks>
    /// Basis: common practice: winds an hour apart differ by some 3 to 5 kt; the last fitted on the recorded truth flights.
    /// </remarks>
    public const double WalkKtPerRootHour = 4,
        ShearWalkPerKft = 0.25,
        WalkKtPerRootKft = 3;

    /// <summary>
    /// First seconds of a straight, in which the pilot still corrects the turn before, and its last seconds: neither shows what was held.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double SettleS = 10,
        LeaveS = 2;

    /// <summary>In a straight nothing turns faster, degrees per second.</summary>
    /// <remarks>Basis: common practice: a third of standard rate.</remarks>
    public const double StraightDegPerS = 1;

    /// <summary>Fewer blocks of ground velocity, or fewer samples with air data, give no wind.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const int FewestBlocks = 6,
        FewestAirDataSamples = 30;

    /// <summary>
    /// Length of the stretches of a recording over which one wind is solved, seconds, and time from one wind to the next between which it
    /// is interpolated, seconds.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double StretchS = 420,
        FieldStepS = 120;

    /// <summary>
    /// A part that turns less in all, degrees, shows the wind only where it is known already to some knots: in a straight any airspeed and
    /// wind that add up to the ground speed fit.
    /// </summary>
    /// <remarks>Basis: fitted on simulated flights with long legs.</remarks>
    public const double ShowingTurnDeg = 90;

    /// <summary>
    /// With recorded airspeed or heading a part shows the wind where its tracks differ so much, degrees: nearer tracks show one component.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double ShowingSpreadDeg = 45;

    /// <summary>What a straight counts against a standard-rate turn for the time at which the wind of a stretch was shown.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double StraightShare = 0.05;

    /// <summary>A wind with a larger sigma says less than no wind, knots.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double UsableSigmaKt = 6;

    /// <summary>Sigma per axis of a wind that a person entered, and of a wind from recorded heading and airspeed, knots.</summary>
    /// <remarks>Basis: common practice for an entered wind; fitted on the recorded truth flights for the other.</remarks>
    public const double GivenWindSigmaKt = 5,
        AirDataWindSigmaKt = 0.4;

    /// <summary>Farther than this from the reference altitude the wind changes no more, thousands of feet.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double ShearReachKft = 5;

    /// <summary>Variance of the walk of the wind, square knots per axis, in some seconds.</summary>
    public static double WalkedSquareKt(double seconds) => WalkKtPerRootHour * WalkKtPerRootHour * seconds / 3600;
}
