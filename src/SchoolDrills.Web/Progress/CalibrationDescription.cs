using SchoolDrills.Engine.Progress;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Progress;

/// <summary>A student's own verdicts against the measured ones, in words. From not met to met is 100%.</summary>
internal static class CalibrationDescription
{
    /// <param name="calibration">Of like attempts.</param>
    /// <param name="student">Name of the student; null where he reads it himself.</param>
    public static string Of(Calibration calibration, string? student = null)
    {
        if (calibration is not { BiasShare: { } bias, Interval: { } interval })
        {
            return T["Too little data: {0} of {1} attempts with an own rating.", calibration.Attempts, ParameterTrend.FewestAttempts];
        }

        string over = T[
            "{0} over {1}, between {2} and {3}",
            Signed(bias),
            Figures.Count(calibration.Attempts, "attempt", "attempts"),
            Signed(interval.Lo),
            Signed(interval.Hi)
        ];
        var isLike = interval.Lo <= 0 && interval.Hi >= 0;
        if (student is null)
        {
            return isLike ? T["You rate your own flying about as it was measured: {0}.", over]
                : bias > 0 ? T["You rate your own flying better than it was measured: {0}.", over]
                : T["You rate your own flying worse than it was measured: {0}.", over];
        }

        return isLike ? T["{0} rates the flying about as it was measured: {1}.", student, over]
            : bias > 0 ? T["{0} rates the flying better than it was measured: {1}.", student, over]
            : T["{0} rates the flying worse than it was measured: {1}.", student, over];
    }

    /// <summary>+12%, −4%, 0%.</summary>
    public static string Signed(double share)
    {
        var text = Figures.Share(Math.Abs(share));
        return text == "0%" ? text : (share < 0 ? "−" : "+") + text;
    }
}
