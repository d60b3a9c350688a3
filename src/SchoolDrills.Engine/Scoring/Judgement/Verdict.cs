using System.Text.Json.Serialization;

namespace SchoolDrills.Engine.Scoring;

/// <summary>How a measurement stands against its tolerance.</summary>
[JsonConverter(typeof(KebabCase<Verdict>))]
public enum Verdict
{
    /// <summary>Within the standard.</summary>
    Met,

    /// <summary>Outside, by little or for a short time.</summary>
    Close,

    /// <summary>Outside the standard.</summary>
    NotMet,

    /// <summary>The recording cannot tell.</summary>
    NotMeasured,
}
