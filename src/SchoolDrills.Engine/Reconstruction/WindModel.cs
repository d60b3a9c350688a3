namespace SchoolDrills.Engine.Reconstruction;

/// <summary>What the wind solution assumes of wind and pilot.</summary>
internal static class WindModel
{
    /// <summary>What is believed before looking: wind, knots; its change, knots per 1,000 ft; cost of climb and turn, knots.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights and on simulated flights.</remarks>
    public const double PriorWindKt = 25,
        PriorShearKt = 3.5,
        PriorCostKt = 1;

    /// <summary>
    /// How near pilots keep the airspeed that they aim at on the whole, and how near it is to the mean of ground speeds when the aim is
    /// not known, knots.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights and on simulated flights.</remarks>
    public const double AimedAirspeedKt = 3,
        GuessedAirspeedKt = 30;

    /// <summary>Time in which a strayed airspeed is brought back, seconds, and how long one scale of straying lasts, seconds.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights and on simulated flights.</remarks>
    public const double StrayS = 14,
        GroupS = 30;

    /// <summary>Degrees of freedom of the t-distributions of airspeed and heading.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights and on simulated flights.</remarks>
    public const double AirspeedFreedom = 3,
        HeadingFreedom = 5;

    /// <summary>
    /// Usual straying of airspeed, knots, and of a straight's heading, radians; each with the number of observations that it is worth.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights and on simulated flights.</remarks>
    public const double UsualStrayKt = 1.5,
        UsualHeadingRad = 2 * Math.PI / 180,
        UsualWorth = 4;

    /// <summary>Straying is never taken for less, knots; error of a block's velocity, knots.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights and on simulated flights.</remarks>
    public const double LeastStrayKt = 0.8,
        BlockKt = 0.3;

    /// <summary>
    /// What the covariance is short of by, as a factor of sigma: the straying is only nearly of second order, and its scales are taken
    /// from the same data. From flights made up by that very process and from recorded ones.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights and on simulated flights.</remarks>
    public const double Widening = 1.25;

    /// <summary>The wind itself is not steady to better than this, knots.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights and on simulated flights.</remarks>
    public const double UnsteadyKt = 0.4;

    /// <summary>The first seconds of a straight, in which the last turn is still being put right, and its last ones do not count.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights and on simulated flights.</remarks>
    public const double SettleS = 10,
        LeaveS = 2;

    /// <summary>In a straight nothing turns faster, degrees per second.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights and on simulated flights.</remarks>
    public const double StraightDegPerS = 1;

    /// <summary>Length of a block, seconds: shorter ones would only repeat each other, since airspeed does not change that fast.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights and on simulated flights.</remarks>
    public const double LengthS = 5;
}
