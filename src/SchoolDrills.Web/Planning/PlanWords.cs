using System.Globalization;
using SchoolDrills.Engine.Planning;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Planning;

/// <summary>A plan in words.</summary>
public static class PlanWords
{
    /// <summary>Roll out 8° before the heading; level off 50 ft before the altitude.</summary>
    public static string Leads(DrillPlan plan)
    {
        var rolls = plan.Turns.Select(t => Math.Round(t.RollOutLeadDeg)).Distinct().Order().Select(d => $"{d:0}°").ToList();
        var levels = plan
            .VerticalSpeeds.Select(v => Math.Round(v.LevelOffLeadFt))
            .Distinct()
            .Order()
            .Select(f => T["{0} ft", f.ToString("0", CultureInfo.InvariantCulture)])
            .ToList();
        string[] leads =
        [
            .. rolls.Count > 0 ? [T["roll out {0} before the heading", string.Join(T[" or "], rolls)]] : Array.Empty<string>(),
            .. levels.Count > 0 ? [T["level off {0} before the altitude", string.Join(T[" or "], levels)]] : Array.Empty<string>(),
        ];
        var text = string.Join("; ", leads);
        return text.Length == 0 ? T["None: straight and level throughout."] : char.ToUpperInvariant(text[0]) + text[1..] + ".";
    }

    /// <summary>3,000 ft 290° 15 kt, 5,000 ft 300° 25 kt.</summary>
    public static string Winds(IReadOnlyList<WindLevel>? winds) =>
        winds is not { Count: > 0 }
            ? T["calm"]
            : string.Join(
                ", ",
                winds.Select(w =>
                    T[
                        "{0} {1} {2} kt",
                        Figures.Altitude(w.AltitudeFt),
                        Figures.Heading(w.FromDegTrue),
                        w.SpeedKt.ToString("0", CultureInfo.InvariantCulture)
                    ]
                )
            );
}
