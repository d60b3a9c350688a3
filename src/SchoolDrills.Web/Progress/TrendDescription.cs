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
        (group.Aircraft, group.HasAirData) switch
        {
            (null, true) => T["{0}, level {1}, air data recorded", drillTitle, group.Level],
            (null, false) => T["{0}, level {1}, positions only", drillTitle, group.Level],
            ({ } aircraft, true) => T["{0}, level {1}, {2}, air data recorded", drillTitle, group.Level, aircraft],
            ({ } aircraft, false) => T["{0}, level {1}, {2}, positions only", drillTitle, group.Level, aircraft],
        };

    public static string Of(ParameterProgress progress)
    {
        var asked = Figures.Share(progress.StandardShare);
        string now = T["Newest {0}, the standard asks for {1}.", Figures.Share(Standings.Newest(progress).WithinShare), asked];
        if (progress.Points.Count < ParameterTrend.FewestAttempts)
            return T["{0} Too little data: {1} of {2} attempts.", now, progress.Points.Count, ParameterTrend.FewestAttempts];
        string? trend = Standings.Trend(progress) switch
        {
            null when progress.Points.Count < ParameterTrend.FewestForTrend => null,
            { } gain and > 0 => T["Better by {0} points an attempt, between {1}.", Number(gain), Between(progress)].Value,
            { } loss and < 0 => T["Worse by {0} points an attempt, between {1}.", Number(-loss), Between(progress)].Value,
            _ => T["No clear trend."].Value,
        };
        string? ahead = progress switch
        {
            { Forecast: { AttemptsToStandard: var attempts, Lo: var least, Hi: var most } } => T[
                "About {0} to the standard, between {1} and {2}.",
                Figures.Count(attempts, "attempt", "attempts"),
                least,
                most
            ].Value,
            { Reason: { Length: > 0 } reason } => T["No forecast: {0}.", reason.TrimEnd('.')].Value,
            _ => null,
        };
        string?[] told = [now, trend, ahead];
        return string.Join(" ", told.OfType<string>());
    }

    /// <summary>How often, with its interval, and on how many attempts.</summary>
    public static string Of(WeakSegmentSummary weak) =>
        T[
            "About {0} not met, between {1} and {2}, over {3}.",
            Figures.Share(weak.NotMetShare),
            Figures.Share(weak.Lo),
            Figures.Share(weak.Hi),
            Figures.Count(weak.Attempts, "attempt", "attempts")
        ];

    /// <summary>2 and 6.</summary>
    private static string Between(ParameterProgress progress)
    {
        var (one, other) = (Math.Abs(progress.TrendInterval!.Value.Lo), Math.Abs(progress.TrendInterval!.Value.Hi));
        return T["{0} and {1}", Number(Math.Min(one, other)), Number(Math.Max(one, other))];
    }

    private static string Number(double share) => (share * 100).ToString("0.#", CultureInfo.InvariantCulture);
}
