using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>What the standards leave to the examiner: how large an exceedance is large, and how much of a drill may be not met.</summary>
internal static class JudgementRules
{
    /// <summary>A measurement whose sigma is over this share of the tolerance gives no verdict.</summary>
    /// <remarks>Basis: common practice: at half, two sigma of the measurement fill the tolerance.</remarks>
    public const double CoarsestShare = 0.5;

    /// <summary>A verdict is given when its chance to be right is at least this.</summary>
    /// <remarks>Basis: common practice: below it the verdict is more likely wrong than right.</remarks>
    public const double LeastChance = 0.5;

    /// <summary>An exceedance this many times the tolerance is not met, however promptly it is corrected.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double FarTolerances = 2;

    /// <summary>An exceedance left uncorrected may still be close below this many times the tolerance.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double CloseTolerances = 1.5;

    /// <summary>A start this many times the timing tolerance off is still close.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double CloseTimingTolerances = 2;

    /// <summary>Share of a drill's time that may be not met while the drill is close.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double MostNotMetShare = 0.25;

    /// <summary>The published standards set tolerances for altitude, heading and airspeed: these decide, the others only lower.</summary>
    /// <param name="parameter">The parameter.</param>
    public static bool Decides(Parameter parameter) => parameter is Parameter.Altitude or Parameter.Heading or Parameter.Airspeed;
}
