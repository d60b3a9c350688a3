using System.Text.Json.Serialization;

namespace SchoolDrills.Engine.Drills;

/// <summary>Kind of a segment by what an instructor sees first: does it turn, does it change altitude.</summary>
[JsonConverter(typeof(KebabCase<SegmentKind>))]
public enum SegmentKind
{
    /// <summary>Heading and altitude held.</summary>
    LevelStraight,

    /// <summary>A turn at constant altitude.</summary>
    LevelTurn,

    /// <summary>A climb on a constant heading.</summary>
    ClimbStraight,

    /// <summary>A climb while turning.</summary>
    ClimbTurn,

    /// <summary>A descent on a constant heading.</summary>
    DescendStraight,

    /// <summary>A descent while turning.</summary>
    DescendTurn,

    /// <summary>A change of airspeed with heading and altitude held.</summary>
    SpeedChange,
}
