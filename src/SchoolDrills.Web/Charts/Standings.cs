using SchoolDrills.Contracts;
using SchoolDrills.Engine.Progress;

namespace SchoolDrills.Web.Charts;

/// <summary>How the newest attempt of a parameter lies to the standard.</summary>
internal enum Standing
{
    /// <summary>Fewer attempts than allow a word.</summary>
    TooLittleData,

    /// <summary>The whole interval is at the standard or above.</summary>
    AtStandard,

    /// <summary>The standard lies inside the interval.</summary>
    TooCloseToTell,

    /// <summary>The whole interval is below.</summary>
    Below,
}

/// <summary>What one parameter's attempts allow to be said.</summary>
internal static class Standings
{
    /// <summary>The newest attempt.</summary>
    public static ProgressPoint Newest(ParameterProgress progress) => progress.Points.MaxBy(p => p.FlownOn)!;

    public static Standing Of(ParameterProgress progress)
    {
        if (progress.Points.Count < ParameterTrend.FewestAttempts)
            return Standing.TooLittleData;
        var newest = Newest(progress);
        return newest.Lo >= progress.StandardShare ? Standing.AtStandard
            : newest.Hi < progress.StandardShare ? Standing.Below
            : Standing.TooCloseToTell;
    }

    /// <summary>The change an attempt where it is sure: five attempts or more, and an interval without zero.</summary>
    public static double? Trend(ParameterProgress progress) =>
        progress.Points.Count >= ParameterTrend.FewestForTrend && progress.TrendInterval is { } interval && interval.Lo * interval.Hi > 0
            ? progress.TrendPerAttempt
            : null;
}
