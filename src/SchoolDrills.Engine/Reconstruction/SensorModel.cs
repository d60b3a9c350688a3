namespace SchoolDrills.Engine.Reconstruction;

/// <summary>What receivers, altimeters and air data are taken to be good for.</summary>
internal static class SensorModel
{
    /// <summary>Airspeed at which the ratio of true to indicated is taken; it hardly depends on it, knots.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double UsualAirspeedKt = 100;

    /// <summary>
    /// Angle between a light aeroplane's nose and its path through the air at its usual speeds, degrees. In a bank this points the nose
    /// into the turn by the angle times the sine of the bank, so that the heading runs ahead of the path.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double AttackDeg = 1.8;

    /// <summary>
    /// Satellite positions wander slowly by metres, so second-to-second steps are good to about half a metre; a light aeroplane rolls
    /// into a rate-one turn in about three seconds, which changes its acceleration by some 0.8 m/s³. Metres, and m/s³ per √Hz.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double PositionM = 0.5,
        PositionMPerS3 = 0.5;

    /// <summary>One standard deviation of recorded heading, degrees, and airspeed, knots.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double RecordedHeadingDeg = 0.75,
        RecordedAirspeedKt = 0.6;

    /// <summary>
    /// One standard deviation of the path's direction, smoothing and gusts counted, and of a heading whose drift is not known, degrees.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double PathDeg = 0.45,
        UnknownWindDeg = 15;

    /// <summary>
    /// One standard deviation of airspeed from ground velocity were the wind known, knots: gusts, and the day's temperature.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double DerivedAirspeedKt = 0.9;

    /// <summary>Slower than this the aeroplane is on the ground, knots, if it is so for some samples.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double GroundKt = 30;

    /// <summary>Noise of satellite height, feet, and how briskly it may bend, ft/s³ per √Hz.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double GpsFt = 9,
        GpsFtPerS3 = 1.2;

    /// <summary>Of which white, feet, and wander as of 4 m in a minute, feet per √s.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double GpsWhiteFt = 3.3,
        GpsWanderFtPerRootS = 2.4;

    /// <summary>Steps in which the noise is looked for, and the largest, as factors of the expected sigma.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double Step = 1.4,
        Most = 60;

    /// <summary>Degrees of freedom of the t-distribution that surprises are held against: a jump says little about the noise.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double Freedom = 10;
}
