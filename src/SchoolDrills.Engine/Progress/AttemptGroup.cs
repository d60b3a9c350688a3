using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Engine.Progress;

/// <summary>What must be the same for two attempts to be compared.</summary>
/// <param name="DrillSlug">Drill.</param>
/// <param name="Level">Level of the version flown, 1 to 5.</param>
/// <param name="Aircraft">Aircraft flown; null where nobody said.</param>
/// <param name="HasAirData">Airspeed was recorded in the aircraft; otherwise the recording has positions only.</param>
public sealed record AttemptGroup(string DrillSlug, int Level, string? Aircraft, bool HasAirData);

/// <summary>Like segments, whatever drill of the level they were flown in.</summary>
/// <param name="Kind">Kind of segment.</param>
/// <param name="Parameter">Parameter judged.</param>
/// <param name="Level">Level of the drill, 1 to 5.</param>
/// <param name="Aircraft">Aircraft flown; null where nobody said.</param>
/// <param name="HasAirData">Airspeed was recorded in the aircraft.</param>
public sealed record SegmentGroup(SegmentKind Kind, Parameter Parameter, int Level, string? Aircraft, bool HasAirData)
{
    /// <summary>The group of a measurement.</summary>
    /// <param name="measured">The measurement.</param>
    public static SegmentGroup Of(SegmentMeasurement measured) =>
        new(measured.Kind, measured.Parameter, measured.Group.Level, measured.Group.Aircraft, measured.Group.HasAirData);
}

/// <summary>One parameter of one segment of one attempt.</summary>
/// <param name="AttemptId">Attempt.</param>
/// <param name="Group">What the attempt can be compared with.</param>
/// <param name="FlownAtUtc">When it was flown.</param>
/// <param name="SegmentIndex">Place of the segment in the drill, from 0.</param>
/// <param name="Kind">Kind of segment.</param>
/// <param name="Parameter">Parameter measured.</param>
/// <param name="DurationS">Length of the segment, seconds.</param>
/// <param name="WithinShare">Share of its time within tolerance, 0 to 1; null where it was not measured.</param>
/// <param name="Verdict">How it stands.</param>
public sealed record SegmentMeasurement(
    Guid AttemptId,
    AttemptGroup Group,
    DateTimeOffset FlownAtUtc,
    int SegmentIndex,
    SegmentKind Kind,
    Parameter Parameter,
    double DurationS,
    double? WithinShare,
    Verdict Verdict
);

/// <summary>Bounds between which a value lies with a chance of 80 %.</summary>
/// <param name="Lo">Lower bound, in the unit of the value.</param>
/// <param name="Hi">Upper bound, likewise.</param>
public readonly record struct Interval(double Lo, double Hi);
