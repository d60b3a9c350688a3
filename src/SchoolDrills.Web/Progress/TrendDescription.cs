using System.Globalization;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Progress;

/// <summary>A trend in one or two plain sentences.</summary>
internal static class TrendDescription
{
    /// <summary>What attempts have in common that are compared with one another.</summary>
    public static string Of(AttemptGroup group, string drillTitle) =>
        $"{drillTitle}, level {group.Level}, {(group.Aircraft is { } aircraft ? aircraft + ", " : "")}"
        + (group.HasAirData ? "air data recorded" : "positions only");

    public static string Of(ParameterProgress progress)
    {
        var last = progress.Points[^1];
        var now = $"Last {Figures.Share(last.WithinShare)}, the standard asks for {Figures.Share(progress.StandardShare)}.";
        var trend = progress.TrendPerAttempt switch
        {
            null => "",
            >= 0.005 => $" Better by {Points(progress.TrendPerAttempt.Value)} an attempt.",
            <= -0.005 => $" Worse by {Points(-progress.TrendPerAttempt.Value)} an attempt.",
            _ => " No clear trend.",
        };
        var ahead = progress switch
        {
            { Forecast: { } forecast } =>
                $" The standard is about {Figures.Count(forecast.AttemptsToStandard, "attempt", "attempts")} away, "
                    + $"between {forecast.Lo} and {forecast.Hi}.",
            { Reason: { Length: > 0 } reason } => " " + Sentence(reason),
            _ => "",
        };
        return now + trend + ahead;
    }

    /// <summary>How often, with its interval, and on how many attempts.</summary>
    public static string Of(WeakSegmentSummary weak) =>
        $"about {Figures.Share(weak.NotMetShare)} not met, between {Figures.Share(weak.Lo)} and {Figures.Share(weak.Hi)}, "
        + $"over {Figures.Count(weak.Attempts, "attempt", "attempts")}";

    private static string Points(double share) => (share * 100).ToString("0.#", CultureInfo.InvariantCulture) + " points";

    private static string Sentence(string reason) => char.ToUpperInvariant(reason[0]) + reason[1..] + (reason.EndsWith('.') ? "" : ".");
}
