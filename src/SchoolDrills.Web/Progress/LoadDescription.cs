using System.Globalization;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Progress;

/// <summary>How a student flies under load, in words.</summary>
internal static class LoadDescription
{
    /// <summary>The sentence that the section begins with.</summary>
    /// <param name="load">Of the student.</param>
    /// <param name="student">Name of the student; null where he reads it himself.</param>
    public static string Sentence(StudentLoad load, string? student)
    {
        if (load.Attempts == 0)
            return "Too little data: no notes were taken on board in any of the attempts, so nothing is known of the load.";
        var flown = $"Notes were taken in {Figures.Count(load.Attempts, "attempt", "attempts")}.";
        var (who, held) = (student ?? "You", student is null ? "have" : "has");
        var highest = load.Load.Reached.Select(r => r.HighestHeld).Max();
        return highest is { } level
            ? $"{who} {held} stayed in tolerance at up to load level {level} of 5. {flown}"
            : $"{who} {held} not yet stayed in tolerance for {Figures.Share(load.StandardShare)} of the time in one of them. {flown}";
    }

    /// <summary>Like attempts: the highest level and whether it rises.</summary>
    public static string Of(ReachedLoad reached)
    {
        var held = reached.Points.Count(p => p.Held);
        var highest = reached.HighestHeld is { } level
            ? $"in tolerance in {held} of {reached.Points.Count}, at up to level {level}"
            : "in tolerance in none";
        var trend = reached.Trend switch
        {
            { PerAttempt: > 0 and var up } => $"The level held rises by {Steps(up)} an attempt.",
            { PerAttempt: { } down } => $"The level held falls by {Steps(-down)} an attempt.",
            { Interval: not null } => "The level held shows no clear trend.",
            _ => $"Whether the level held rises is told from {ParameterTrend.FewestForTrend} attempts in tolerance.",
        };
        return $"{Figures.Count(reached.Points.Count, "attempt", "attempts")}: {highest}. {trend}";
    }

    /// <summary>Own ratings against the load flown.</summary>
    public static string Of(LoadCalibration own, string? student)
    {
        if (own is not { Bias: { } bias, Interval: { } interval })
            return $"Too little data: {own.Attempts} of {LoadCalibration.FewestAttempts} attempts with an own load rating.";
        var (who, rate) = (student ?? "You", student is null ? "rate" : "rates");
        var how =
            interval is { Lo: <= 0, Hi: >= 0 } ? $"{who} {rate} the load about as it was flown"
            : bias > 0 ? $"{who} {rate} the load higher than tasks and checks make it"
            : $"{who} {rate} the load lower than tasks and checks make it";
        return $"{how}: {Signed(bias)} of 5 levels over {Figures.Count(own.Attempts, "attempt", "attempts")}, "
            + $"between {Signed(interval.Lo)} and {Signed(interval.Hi)} (80% interval).";
    }

    public static string Of(CheckKind? kind) =>
        kind switch
        {
            CheckKind.Flow => "Flows",
            CheckKind.Checklist => "Checklists",
            _ => "Other checks",
        };

    /// <summary>What a share of missed checks rests on.</summary>
    public static string About(MissedChecks checks) =>
        $"{checks.Missed.NotMet} of {checks.Due} missed"
        + (checks.Late > 0 ? $", {checks.Late} late" : "")
        + $", {Figures.Count(checks.Missed.Attempts, "attempt", "attempts")}";

    private static string Signed(double steps) =>
        (
            Math.Abs(steps) < 0.05 ? ""
            : steps < 0 ? "−"
            : "+"
        ) + Math.Abs(steps).ToString("0.0", CultureInfo.InvariantCulture);

    private static string Steps(double steps) => steps.ToString("0.0", CultureInfo.InvariantCulture);
}
