using System.Text.Json.Serialization;

namespace SchoolDrills.Engine.Scoring;

/// <summary>A time within the drill that is not judged, as noted on board.</summary>
/// <param name="FromUtc">From.</param>
/// <param name="ToUtc">To.</param>
/// <param name="Why">Why.</param>
/// <param name="EndNoted">Its end was noted; else it is taken to have lasted the usual time.</param>
public sealed record PausedTime(DateTimeOffset FromUtc, DateTimeOffset ToUtc, PauseReason Why, bool EndNoted);

/// <summary>Why a time is not judged.</summary>
[JsonConverter(typeof(KebabCase<PauseReason>))]
public enum PauseReason
{
    /// <summary>Traffic was avoided.</summary>
    Traffic,

    /// <summary>The instructor had control.</summary>
    InstructorControl,
}
