using System.Globalization;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Web.Charts;
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
        var asked = Figures.Share(progress.StandardShare);
        var now = $"Newest {Figures.Share(Standings.Newest(progress).WithinShare)}, the standard asks for {asked}.";
        if (progress.Points.Count < ParameterTrend.FewestAttempts)
            return $"{now} Too little data: {progress.Points.Count} of {ParameterTrend.FewestAttempts} attempts.";
        var trend = Standings.Trend(progress) switch
        {
            null when progress.Points.Count < ParameterTrend.FewestForTrend => "",
            { } gain and > 0 => $" Better by {Points(gain)} an attempt{Between(progress)}.",
            { } loss and < 0 => $" Worse by {Points(-loss)} an attempt{Between(progress)}.",
            _ => " No clear trend.",
        };
        var ahead = progress switch
        {
            { Forecast: { AttemptsToStandard: var attempts, Lo: var least, Hi: var most } } =>
                $" About {Figures.Count(attempts, "attempt", "attempts")} to the standard, between {least} and {most}.",
            { Reason: { Length: > 0 } reason } => $" No forecast: {reason.TrimEnd('.')}.",
            _ => "",
        };
        return now + trend + ahead;
    }

    /// <summary>How often, with its interval, and on how many attempts.</summary>
    public static string Of(WeakSegmentSummary weak) =>
        $"about {Figures.Share(weak.NotMetShare)} not met, between {Figures.Share(weak.Lo)} and {Figures.Share(weak.Hi)}, "
        + $"over {Figures.Count(weak.Attempts, "attempt", "attempts")}";

    private static string Points(double share) => Number(share) + " points";

    private static string Between(ParameterProgress progress)
    {
        var (one, other) = (Math.Abs(progress.TrendInterval!.Value.Lo), Math.Abs(progress.TrendInterval!.Value.Hi));
        return $", between {Number(Math.Min(one, other))} and {Number(Math.Max(one, other))}";
    }

    private static string Number(double share) => (share * 100).ToString("0.#", CultureInfo.InvariantCulture);
}
