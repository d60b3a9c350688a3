using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Layout;

/// <summary>The wire's words as an instructor reads them.</summary>
public static class Labels
{
    public static string Of(SegmentKind kind) => kind.Words();

    /// <summary>right climbing turn; without a side where the heading stays or is not known.</summary>
    public static string Of(SegmentKind kind, double? turnDeg) =>
        turnDeg switch
        {
            > 0 => T["right {0}", Of(kind)],
            < 0 => T["left {0}", Of(kind)],
            _ => Of(kind),
        };

    /// <summary>Where a tolerance holds; empty where it holds everywhere.</summary>
    public static string Of(IReadOnlyList<SegmentKind>? phases)
    {
        if (phases is null or { Count: 0 })
            return "";
        if (phases.All(IsTurn))
            return T["turns | in a sentence"];
        if (phases.Count > 2 && !phases.Any(IsTurn))
            return T["straight legs"];
        if (phases.All(k => k is not (SegmentKind.LevelStraight or SegmentKind.LevelTurn or SegmentKind.SpeedChange)))
            return T["climbs and descents | in a sentence"];
        return phases.All(k => k is SegmentKind.LevelStraight or SegmentKind.LevelTurn or SegmentKind.SpeedChange)
            ? T["level | in a sentence"]
            : string.Join(", ", phases.Select(k => Of(k)));

        static bool IsTurn(SegmentKind kind) => kind is SegmentKind.LevelTurn or SegmentKind.ClimbTurn or SegmentKind.DescendTurn;
    }

    public static string Of(Parameter parameter) =>
        parameter switch
        {
            Parameter.VerticalSpeed => T["Vertical speed"],
            Parameter.TurnRate => T["Turn rate"],
            Parameter.Altitude => T["Altitude"],
            Parameter.Heading => T["Heading"],
            Parameter.Airspeed => T["Airspeed"],
            Parameter.Bank => T["Bank"],
            Parameter.Timing => T["Timing"],
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
        words.Count < 2 ? string.Concat(words) : T["{0} and {1}", string.Join(", ", words.SkipLast(1)), words[^1]];

    public static string Of(Verdict verdict) =>
        verdict switch
        {
            Verdict.Met => T["met"],
            Verdict.Close => T["close | in a sentence"],
            Verdict.NotMet => T["not met"],
            _ => T["not measured"],
        };

    /// <summary>Where heading comes from, in a sentence's words.</summary>
    public static string Of(HeadingSource source) =>
        source switch
        {
            HeadingSource.Recorded => T["recorded in the aircraft"],
            HeadingSource.WindCorrected => T["calculated from track and wind"],
            _ => T["ground track only, drift unknown"],
        };

    /// <summary>Where altitude comes from.</summary>
    public static string Of(AltitudeSource source) =>
        source switch
        {
            AltitudeSource.Indicated => T["indicated, as recorded"],
            AltitudeSource.Pressure => T["pressure altitude with the altimeter setting"],
            _ => T["GPS height, fitted to the altimeter"],
        };

    /// <summary>Where airspeed comes from.</summary>
    public static string Of(AirspeedSource source) =>
        source switch
        {
            AirspeedSource.Recorded => T["recorded in the aircraft"],
            AirspeedSource.Derived => T["calculated from ground speed and wind"],
            _ => T["not known"],
        };

    /// <summary>Where the wind comes from.</summary>
    public static string Of(WindSource source) =>
        source switch
        {
            WindSource.AirData => T["from recorded air data"],
            WindSource.Turns => T["solved from the flight"],
            WindSource.Given => T["as given"],
            _ => T["not known"],
        };
}
