using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Layout;

/// <summary>The wire's words as an instructor reads them.</summary>
public static class Labels
{
    public static string Of(SegmentKind kind) => kind.Words();

    /// <summary>Where a tolerance holds; empty where it holds everywhere.</summary>
    public static string Of(IReadOnlyList<SegmentKind>? phases)
    {
        if (phases is null or { Count: 0 })
            return "";
        if (phases.All(IsTurn))
            return "turns";
        if (phases.Count > 2 && !phases.Any(IsTurn))
            return "straight legs";
        if (phases.All(k => k is not (SegmentKind.LevelStraight or SegmentKind.LevelTurn or SegmentKind.SpeedChange)))
            return "climbs and descents";
        return phases.All(k => k is SegmentKind.LevelStraight or SegmentKind.LevelTurn or SegmentKind.SpeedChange)
            ? "level"
            : string.Join(", ", phases.Select(Of));

        static bool IsTurn(SegmentKind kind) => kind is SegmentKind.LevelTurn or SegmentKind.ClimbTurn or SegmentKind.DescendTurn;
    }

    public static string Of(Parameter parameter) =>
        parameter switch
        {
            Parameter.VerticalSpeed => "Vertical speed",
            Parameter.TurnRate => "Turn rate",
            _ => parameter.ToString(),
        };

    public static string UnitOf(Parameter parameter) =>
        parameter switch
        {
            Parameter.Altitude => "ft",
            Parameter.Airspeed => "kt",
            Parameter.VerticalSpeed => "fpm",
            Parameter.TurnRate => "deg/s",
            Parameter.Timing => "s",
            _ => "deg",
        };

    /// <summary>altitude, heading and airspeed.</summary>
    public static string Listed(IReadOnlyList<string> words) =>
        words.Count < 2 ? string.Concat(words) : $"{string.Join(", ", words.SkipLast(1))} and {words[^1]}";

    public static string Of(Verdict verdict) =>
        verdict switch
        {
            Verdict.Met => "met",
            Verdict.Close => "close",
            Verdict.NotMet => "not met",
            _ => "not measured",
        };

    /// <summary>Where heading comes from, in a sentence's words.</summary>
    public static string Of(HeadingSource source) =>
        source switch
        {
            HeadingSource.Recorded => "recorded in the aircraft",
            HeadingSource.WindCorrected => "calculated from track and wind",
            _ => "ground track only, drift unknown",
        };

    /// <summary>Where altitude comes from.</summary>
    public static string Of(AltitudeSource source) =>
        source switch
        {
            AltitudeSource.Indicated => "indicated, as recorded",
            AltitudeSource.Pressure => "pressure altitude with the altimeter setting",
            _ => "GPS height, fitted to the altimeter",
        };

    /// <summary>Where airspeed comes from.</summary>
    public static string Of(AirspeedSource source) =>
        source switch
        {
            AirspeedSource.Recorded => "recorded in the aircraft",
            AirspeedSource.Derived => "calculated from ground speed and wind",
            _ => "not known",
        };

    /// <summary>Where the wind comes from.</summary>
    public static string Of(WindSource source) =>
        source switch
        {
            WindSource.AirData => "from recorded air data",
            WindSource.Turns => "solved from the flight",
            WindSource.Given => "as given",
            _ => "not known",
        };
}
