using System.Text.Json.Serialization;

namespace SchoolDrills.Engine.Reconstruction;

/// <summary>Where heading comes from.</summary>
[JsonConverter(typeof(KebabCase<HeadingSource>))]
public enum HeadingSource
{
    /// <summary>Recorded.</summary>
    Recorded,

    /// <summary>Ground velocity less the wind.</summary>
    WindCorrected,

    /// <summary>Direction over the ground: the wind is not known.</summary>
    GroundTrack,
}

/// <summary>Where altitude comes from.</summary>
[JsonConverter(typeof(KebabCase<AltitudeSource>))]
public enum AltitudeSource
{
    /// <summary>Altimeter indication, recorded or computed from pressure altitude and the setting.</summary>
    Indicated,

    /// <summary>Pressure altitude without a setting: its offset from the altimeter is unknown.</summary>
    Pressure,

    /// <summary>Satellite altitude: its offset from the altimeter is unknown.</summary>
    Gps,
}

/// <summary>Where airspeed comes from.</summary>
[JsonConverter(typeof(KebabCase<AirspeedSource>))]
public enum AirspeedSource
{
    /// <summary>Recorded.</summary>
    Recorded,

    /// <summary>Length of ground velocity less the wind, reduced to indicated.</summary>
    Derived,

    /// <summary>Not known.</summary>
    None,
}

/// <summary>
/// What the pilot flew, one value a sample, smoothed: the columns that scoring reads. NaN where unknown. Headings are unwrapped: they
/// continue through north without a jump, so that the difference of two samples is the turn between them.
/// </summary>
public sealed class FlightState
{
    /// <summary>The cleaned recording.</summary>
    public required CleanTrack Track { get; init; }

    /// <summary>Smoothed motion over the ground.</summary>
    public required GroundMotion Motion { get; init; }

    /// <summary>Whether each sample was recorded in the air, between a take-off and a landing.</summary>
    public required bool[] InAir { get; init; }

    /// <summary>Times, seconds since the source's epoch.</summary>
    public double[] TimeS => Track.TimeS;

    /// <summary>
    /// Altitude as the altimeter showed it, feet; from satellites or pressure alone it is off by an unknown constant.
    /// </summary>
    public required double[] AltitudeFt { get; init; }

    /// <summary>One standard deviation of altitude, feet, without the unknown constant.</summary>
    public required double AltitudeSigmaFt { get; init; }

    /// <summary>Vertical speed, feet per minute.</summary>
    public required double[] VerticalSpeedFpm { get; init; }

    /// <summary>One standard deviation of vertical speed, feet per minute.</summary>
    public required double VerticalSpeedSigmaFpm { get; init; }

    /// <summary>Magnetic heading, unwrapped through north, degrees.</summary>
    public required double[] HeadingMagDeg { get; init; }

    /// <summary>One standard deviation of heading, degrees.</summary>
    public required double HeadingSigmaDeg { get; init; }

    /// <summary>Turn rate, degrees per second, right positive.</summary>
    public required double[] TurnRateDegPerS { get; init; }

    /// <summary>One standard deviation of turn rate, degrees per second.</summary>
    public required double TurnRateSigmaDegPerS { get; init; }

    /// <summary>Indicated airspeed, knots.</summary>
    public required double[] AirspeedKt { get; init; }

    /// <summary>One standard deviation of airspeed, knots.</summary>
    public required double AirspeedSigmaKt { get; init; }

    /// <summary>True airspeed, knots.</summary>
    public required double[] TrueAirspeedKt { get; init; }

    /// <summary>Bank, degrees, right positive: recorded, else that of a coordinated turn.</summary>
    public required double[] BankDeg { get; init; }

    /// <summary>Wind used, or found from recorded heading and airspeed.</summary>
    public required WindField Wind { get; init; }

    /// <summary>What the turns of the whole recording show of the wind; null where heading and airspeed are recorded.</summary>
    internal WindOverTime? WindOverTime { get; init; }

    /// <summary>Declination, degrees, east positive; NaN outside the years of the magnetic models where none is recorded.</summary>
    public required double DeclinationDeg { get; init; }

    /// <summary>Where heading comes from.</summary>
    public required HeadingSource HeadingSource { get; init; }

    /// <summary>Where altitude comes from.</summary>
    public required AltitudeSource AltitudeSource { get; init; }

    /// <summary>Where airspeed comes from.</summary>
    public required AirspeedSource AirspeedSource { get; init; }

    /// <summary>Number of samples.</summary>
    public int Count => TimeS.Length;
}
