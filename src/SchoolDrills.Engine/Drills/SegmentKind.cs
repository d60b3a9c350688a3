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

/// <summary>Kinds of segments in words.</summary>
public static class SegmentKindWords
{
    /// <summary>A kind as an instructor says it: <c>climbing turn</c>.</summary>
    /// <param name="kind">The kind.</param>
    public static string Words(this SegmentKind kind) =>
        kind switch
        {
            SegmentKind.LevelStraight => "straight and level",
            SegmentKind.LevelTurn => "level turn",
            SegmentKind.ClimbStraight => "straight climb",
            SegmentKind.ClimbTurn => "climbing turn",
            SegmentKind.DescendStraight => "straight descent",
            SegmentKind.DescendTurn => "descending turn",
            _ => "speed change",
        };
}
