namespace SchoolDrills.Engine.Reconstruction;

/// <summary>
/// How good receivers, altimeters and air data are, and how a light aeroplane moves between two samples. A sigma is one standard
/// deviation. A jerk is the spectral density of the third derivative that drives <see cref="Smoother"/>.
/// </summary>
internal static class SensorModel
{
    /// <summary>Longest time between samples that is not a gap: seconds, or so many median intervals where that is longer.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double GapS = 5,
        GapIntervals = 4;

    /// <summary>
    /// Over a gap no longer than this the headings and altitudes on both sides show how the aeroplane turned and climbed in it, seconds.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights with dropouts.</remarks>
    public const double BridgedGapS = 45;

    /// <summary>A sample this far from where its neighbors put it is a position jump, metres, the usual step added.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double JumpM = 60;

    /// <summary>Below this speed over the ground the aeroplane taxies or stands, knots; above the second it flies.</summary>
    /// <remarks>Basis: common practice: light trainers stall at 40 kt and more.</remarks>
    public const double TaxiKt = 30,
        FlyingKt = 35;

    /// <summary>Slower than taxiing for so long is landed, seconds; faster than flying for so long is taken off.</summary>
    /// <remarks>Basis: common practice: a touch-and-go stays above it, a take-off run gathers speed within.</remarks>
    public const double LandedS = 10,
        TakenOffS = 5;

    /// <summary>Airspeed at which the ratio of true to indicated airspeed is taken, knots; the ratio hardly depends on it.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double UsualAirspeedKt = 100;

    /// <summary>
    /// Angle of attack of a light aeroplane at its usual speeds, degrees. In a bank the nose points into the turn by this angle times the
    /// sine of the bank, so that the heading leads the path.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double AngleOfAttackDeg = 1.8;

    /// <summary>
    /// Sigma of a horizontal position from one second to the next, metres, and jerk, m/s³ per √Hz. Satellite errors change slowly; a light
    /// aeroplane rolls into a standard-rate turn in about 3 s, a jerk of some 0.8 m/s³.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double PositionSigmaM = 0.5,
        PositionJerkMPerS3 = 0.5;

    /// <summary>Sigma of a recorded altitude, feet, and jerk, ft/s³ per √Hz, in smoothing.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double AltimeterNoiseFt = 3,
        AltimeterJerkFtPerS3 = 3;

    /// <summary>Sigma of altitude, feet, and of vertical speed, feet per minute, from a recorded altimeter.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double AltimeterSigmaFt = 4,
        AltimeterSigmaFpm = 36;

    /// <summary>The same for pressure altitude without a setting: flight recorders write whole metres.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double PressureNoiseFt = 4,
        PressureJerkFtPerS3 = 1.5,
        PressureSigmaFt = 5,
        PressureSigmaFpm = 52;

    /// <summary>The same for satellite altitude, which drifts by metres within a minute.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double GpsNoiseFt = 9,
        GpsJerkFtPerS3 = 1.2,
        GpsSigmaFt = 14,
        GpsSigmaFpm = 80;

    /// <summary>White part of the noise of satellite altitude, feet, and its drift as a random walk, feet per √s.</summary>
    /// <remarks>Basis: 1 m white, and 4 m over 60 s: the receivers of the recorded truth flights.</remarks>
    public const double GpsWhiteFt = 3.3,
        GpsDriftFtPerRootS = 2.4;

    /// <summary>Sigma of a recorded heading, degrees, and jerk, °/s³ per √Hz, in smoothing; the same of airspeed in knots.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double HeadingNoiseDeg = 0.2,
        HeadingJerkDegPerS3 = 1.5,
        AirspeedNoiseKt = 0.7,
        AirspeedJerkKtPerS3 = 0.6;

    /// <summary>Sigma of a recorded heading, degrees, of its rate, degrees per second, and of a recorded airspeed, knots.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double RecordedHeadingSigmaDeg = 0.75,
        RecordedTurnRateSigmaDegPerS = 0.24,
        RecordedAirspeedSigmaKt = 0.6;

    /// <summary>
    /// Sigma of a heading from ground velocity, degrees: with the wind known, and without wind. Smoothing and gusts are in the first.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights; without wind, 25 kt across at 100 kt.</remarks>
    public const double DerivedHeadingSigmaDeg = 0.45,
        GroundTrackSigmaDeg = 15;

    /// <summary>Sigma of a turn rate from ground velocity, degrees per second, at usual noise.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights; it grows with the sixth root of the noise.</remarks>
    public const double DerivedTurnRateSigmaDegPerS = 0.4;

    /// <summary>Sigma of airspeed from ground velocity with the wind known, knots: gusts, and the day's temperature.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double DerivedAirspeedSigmaKt = 0.9;

    /// <summary>Factor between two noise levels that are tried, and the largest level, both over the usual noise.</summary>
    /// <remarks>Basis: common practice; the largest covers 30 m of position noise.</remarks>
    public const double NoiseStep = 1.4,
        MostNoise = 60;

    /// <summary>Degrees of freedom of the t-distribution of innovations: a single jump says little about the noise.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double InnovationFreedom = 10;
}
