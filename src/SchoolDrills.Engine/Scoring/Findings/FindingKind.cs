using System.Text.Json.Serialization;

namespace SchoolDrills.Engine.Scoring;

/// <summary>What a finding is about.</summary>
[JsonConverter(typeof(KebabCase<FindingKind>))]
public enum FindingKind
{
    /// <summary>Begun after its time.</summary>
    LateStart,

    /// <summary>Begun before its time.</summary>
    EarlyStart,

    /// <summary>Rolled out past the heading.</summary>
    OvershotHeading,

    /// <summary>Rolled out short of the heading.</summary>
    UndershotHeading,

    /// <summary>Levelled off past the altitude.</summary>
    AltitudeOvershoot,

    /// <summary>Levelled off short of the altitude.</summary>
    AltitudeUndershoot,

    /// <summary>Turn rate or vertical speed too high.</summary>
    RateHigh,

    /// <summary>Turn rate or vertical speed too low.</summary>
    RateLow,

    /// <summary>Turned the wrong way.</summary>
    WrongDirection,

    /// <summary>Not flown.</summary>
    SkippedSegment,

    /// <summary>Altitude left its target and was not brought back promptly.</summary>
    AltitudeDrift,

    /// <summary>Heading left its target and was not brought back promptly.</summary>
    HeadingDrift,

    /// <summary>Airspeed left its target and was not brought back promptly.</summary>
    AirspeedDrift,

    /// <summary>Given up before its end.</summary>
    Aborted,

    /// <summary>A check was not done.</summary>
    MissedCheck,

    /// <summary>A check was done after its window.</summary>
    LateCheck,
}
