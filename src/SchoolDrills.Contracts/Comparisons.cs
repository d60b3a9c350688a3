using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Contracts;

/// <summary>What an attempt can be compared with, of the same version of its drill.</summary>
[System.Text.Json.Serialization.JsonConverter(typeof(Engine.KebabCase<ComparedWith>))]
public enum ComparedWith
{
    /// <summary>The student's last attempt before it.</summary>
    Last,

    /// <summary>The student's best other attempt by share in tolerance.</summary>
    Best,

    /// <summary>The school's example.</summary>
    Example,
}

/// <summary>An attempt beside another one at the same drill.</summary>
/// <param name="Offered">What there is to compare with.</param>
/// <param name="With">What it is compared with; null where that is not to be had.</param>
/// <param name="Reason">Why there is no comparison, one sentence; null where there is one.</param>
/// <param name="OtherId">The other attempt; null for the example, of which nobody learns whose it is.</param>
/// <param name="OtherFlownAtUtc">When it was flown; null for the example.</param>
/// <param name="OtherWithinShare">Its share in tolerance; null for the example.</param>
/// <param name="TrackUrl">Where both sets of columns are to be had, as a <see cref="FlightOverlay"/>.</param>
/// <param name="Segments">Segment by segment, then and now.</param>
/// <param name="Shift">How the other was moved to begin from this one's entry.</param>
public sealed record AttemptComparison(
    IReadOnlyList<ComparedWith> Offered,
    ComparedWith? With,
    string? Reason,
    Guid? OtherId,
    DateTimeOffset? OtherFlownAtUtc,
    double? OtherWithinShare,
    string? TrackUrl,
    IReadOnlyList<ComparedSegment> Segments,
    EntryShift? Shift
);

/// <summary>One segment, in this attempt and in the other.</summary>
/// <param name="StartErrorS">Start against the drill's clock, seconds, late positive; null where not known.</param>
/// <param name="OtherStartErrorS">The same in the other; null for the example.</param>
public sealed record ComparedSegment(RibbonSegment Segment, RibbonSegment? Other, double? StartErrorS, double? OtherStartErrorS);

/// <summary>Makes an attempt its drill's example at the school.</summary>
/// <param name="StudentAgreed">The student who flew it agreed that the school's students may lay it over theirs.</param>
public sealed record MarkExample(bool StudentAgreed);

/// <summary>Whether an attempt is its drill's example, and may be made so.</summary>
public sealed record ExampleStanding(bool IsExample, bool DrillHasExample);

/// <summary>The school's example of a drill.</summary>
/// <param name="AttemptId">The attempt it was made of, for those who may see that; null for others.</param>
public sealed record DrillExampleLink(bool HasExample, Guid? AttemptId);
