using System.Text.Json.Serialization;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>The errors of the cross-check that instructors teach (common practice).</summary>
[JsonConverter(typeof(KebabCase<ScanError>))]
public enum ScanError
{
    /// <summary>The eyes rested on one instrument.</summary>
    Fixation,

    /// <summary>One instrument dropped out of the scan.</summary>
    Omission,

    /// <summary>One instrument was trusted before all others.</summary>
    Emphasis,
}

/// <summary>A way of scanning that would explain what was seen: to talk about, not measured.</summary>
/// <param name="Kind">Which error of the cross-check.</param>
/// <param name="Parameter">The instrument it is about.</param>
/// <param name="StartUtc">From.</param>
/// <param name="EndUtc">To.</param>
/// <param name="Text">One sentence, a suggestion with its evidence.</param>
public sealed record ScanHint(ScanError Kind, Parameter Parameter, DateTimeOffset StartUtc, DateTimeOffset EndUtc, string Text);
