using System.Text.Json.Serialization;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>A check whose window was flown.</summary>
/// <param name="Name">As the drill names it.</param>
/// <param name="SegmentIndex">Segment in which its window opened.</param>
/// <param name="FromUtc">Window opened.</param>
/// <param name="ToUtc">Window closed.</param>
/// <param name="DoneUtc">When it was done; null where that was not noted.</param>
/// <param name="Outcome">How it ended.</param>
public sealed record CheckResult(
    string Name,
    int SegmentIndex,
    DateTimeOffset FromUtc,
    DateTimeOffset ToUtc,
    DateTimeOffset? DoneUtc,
    LoadOutcome Outcome
)
{
    /// <summary>Flow or checklist; null in reports of earlier engines.</summary>
    public CheckKind? Kind { get; init; }
}

/// <summary>How a load task or a check ended.</summary>
[JsonConverter(typeof(KebabCase<LoadOutcome>))]
public enum LoadOutcome
{
    /// <summary>Answered rightly, or done, in time.</summary>
    InTime,

    /// <summary>Answered rightly, or done, but late.</summary>
    Late,

    /// <summary>Answered wrongly.</summary>
    Wrong,

    /// <summary>No answer, or not done, while others were noted.</summary>
    Missed,

    /// <summary>Nobody noted answers.</summary>
    NotNoted,
}
