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
            return T["Too little data: no notes were taken on board in any attempt, so the load is not known."];
        string flown = T["Notes were taken in {0}.", Figures.Count(load.Attempts, "attempt", "attempts")];
        var asked = Figures.Share(load.StandardShare);
        return (load.Load.Reached.Select(r => r.HighestHeld).Max(), student) switch
        {
            ({ } level, null) => T["You have stayed in tolerance at up to load level {0} of 5. {1}", level, flown],
            ({ } level, _) => T["{0} has stayed in tolerance at up to load level {1} of 5. {2}", student, level, flown],
            (_, null) => T["You have not yet stayed in tolerance for {0} of the time in one of them. {1}", asked, flown],
            _ => T["{0} has not yet stayed in tolerance for {1} of the time in one of them. {2}", student, asked, flown],
        };
    }

    /// <summary>Like attempts: the highest level and whether it rises.</summary>
    public static string Of(ReachedLoad reached)
    {
        var held = reached.Points.Count(p => p.Held);
        string trend = reached.Trend switch
        {
            { PerAttempt: > 0 and var up } => T["The level held rises by {0} an attempt.", Steps(up)],
            { PerAttempt: { } down } => T["The level held falls by {0} an attempt.", Steps(-down)],
            { Interval: not null } => T["The level held shows no clear trend."],
            _ => T["A trend in the level held needs {0} attempts in tolerance.", ParameterTrend.FewestForTrend],
        };
        var flown = Figures.Count(reached.Points.Count, "attempt", "attempts");
        return reached.HighestHeld is { } level
            ? T["{0}: in tolerance in {1} of {2}, at up to level {3}. {4}", flown, held, reached.Points.Count, level, trend]
            : T["{0}: in tolerance in none. {1}", flown, trend];
    }

    /// <summary>Own ratings against the load flown.</summary>
    public static string Of(LoadCalibration own, string? student)
    {
        if (own is not { Bias: { } bias, Interval: { } interval })
        {
            return T["Too little data: {0} of {1} attempts with an own load rating.", own.Attempts, LoadCalibration.FewestAttempts];
        }

        string over = T[
            "{0} of 5 levels over {1}, between {2} and {3} (80% interval)",
            Signed(bias),
            Figures.Count(own.Attempts, "attempt", "attempts"),
            Signed(interval.Lo),
            Signed(interval.Hi)
        ];
        var isLike = interval is { Lo: <= 0, Hi: >= 0 };
        if (student is null)
        {
            return isLike ? T["You rate the load about as it was flown: {0}.", over]
                : bias > 0 ? T["You rate the load higher than the tasks and checks suggest: {0}.", over]
                : T["You rate the load lower than the tasks and checks suggest: {0}.", over];
        }

        return isLike ? T["{0} rates the load about as it was flown: {1}.", student, over]
            : bias > 0 ? T["{0} rates the load higher than the tasks and checks suggest: {1}.", student, over]
            : T["{0} rates the load lower than the tasks and checks suggest: {1}.", student, over];
    }

    public static string Of(CheckKind? kind) =>
        kind switch
        {
            CheckKind.Flow => T["Flows"],
            CheckKind.Checklist => T["Checklists"],
            _ => T["Other checks"],
        };

    /// <summary>What a share of missed checks rests on.</summary>
    public static string About(MissedChecks checks) =>
        checks.Late > 0
            ? T["{0} of {1} missed, {2} late, {3}", checks.Missed.NotMet, checks.Due, checks.Late, Attempts(checks)]
            : T["{0} of {1} missed, {2}", checks.Missed.NotMet, checks.Due, Attempts(checks)];

    private static string Attempts(MissedChecks checks) => Figures.Count(checks.Missed.Attempts, "attempt", "attempts");

    private static string Signed(double steps) =>
        (
            Math.Abs(steps) < 0.05 ? ""
            : steps < 0 ? "−"
            : "+"
        ) + Math.Abs(steps).ToString("0.0", CultureInfo.InvariantCulture);

    private static string Steps(double steps) => steps.ToString("0.0", CultureInfo.InvariantCulture);
}
