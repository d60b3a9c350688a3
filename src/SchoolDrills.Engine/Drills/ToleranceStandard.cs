using System.Text.Json.Serialization;

namespace SchoolDrills.Engine.Drills;

/// <summary>What is measured against a tolerance.</summary>
[JsonConverter(typeof(KebabCase<Parameter>))]
public enum Parameter
{
    /// <summary>Indicated altitude, ft.</summary>
    Altitude,

    /// <summary>Magnetic heading, deg.</summary>
    Heading,

    /// <summary>Indicated airspeed, kt.</summary>
    Airspeed,

    /// <summary>Vertical speed, fpm.</summary>
    VerticalSpeed,

    /// <summary>Rate of turn, deg/s.</summary>
    TurnRate,

    /// <summary>Angle of bank, deg.</summary>
    Bank,

    /// <summary>Start of a segment against the clock, s.</summary>
    Timing,
}

/// <summary>An allowed deviation either side of a target.</summary>
/// <param name="Parameter">What is measured.</param>
/// <param name="Within">Allowed deviation either side, in the parameter's unit (ft, deg, kt, fpm, deg/s, deg, s).</param>
/// <param name="Phases">The kinds of segment it holds for; null or empty for all. A named kind takes precedence over "all".</param>
/// <param name="Basis">Where this figure comes from, when it is not the standard's own source.</param>
public sealed record Tolerance(Parameter Parameter, double Within, IReadOnlyList<SegmentKind>? Phases = null, string? Basis = null);

/// <summary>A published or school-made set of tolerances with the rule by which a segment is judged.</summary>
/// <param name="RequiredShare">Share of a segment's time that must be within tolerance for <c>met</c>, 0 to 1.</param>
/// <param name="CloseShare">Share below which a segment is <c>not-met</c> rather than <c>close</c>, 0 to 1.</param>
/// <param name="PromptCorrectionS">
/// An exceedance below twice the tolerance that is back within this many seconds counts as promptly corrected.
/// </param>
public sealed record ToleranceStandard(double RequiredShare = 0.9, double CloseShare = 0.7, double PromptCorrectionS = 8)
{
    /// <summary>Name in addresses, lower case with hyphens.</summary>
    public required string Slug { get; init; }

    /// <summary>Title a pilot recognises.</summary>
    public required string Title { get; init; }

    /// <summary>Document and item the figures come from.</summary>
    public required string Source { get; init; }

    /// <summary>Edition or date of the source.</summary>
    public string? Edition { get; init; }

    /// <summary>Slug of the standard that this one is the next edition of; null for the first of its line.</summary>
    public string? Supersedes { get; init; }

    /// <summary>How the figures were confirmed: <c>published</c>, <c>transcription</c>, <c>common practice</c> or <c>school</c>.</summary>
    public required string Basis { get; init; }

    /// <summary>The allowed deviations.</summary>
    public required IReadOnlyList<Tolerance> Tolerances { get; init; }

    /// <summary>The allowed deviation, or null where the standard says nothing.</summary>
    /// <param name="parameter">What is measured.</param>
    /// <param name="segment">
    /// The segment flown; its own overrides take precedence, then tolerances naming its kind, then general ones.
    /// </param>
    public double? WithinFor(Parameter parameter, TimelineSegment segment) =>
        Find(segment.Overrides, parameter, segment.Kind) ?? Find(Tolerances, parameter, segment.Kind);

    /// <summary>What is wrong with this standard, one sentence each; empty when it can be judged by.</summary>
    public IReadOnlyList<string> Problems() => [.. StandardProblems.Of(this).Select(p => p.Sentence)];

    private static double? Find(IReadOnlyList<Tolerance> tolerances, Parameter parameter, SegmentKind kind)
    {
        var about = tolerances.Where(t => t.Parameter == parameter).ToList();
        return (about.Find(t => t.Phases?.Contains(kind) == true) ?? about.Find(t => t.Phases is null or { Count: 0 }))?.Within;
    }
}
