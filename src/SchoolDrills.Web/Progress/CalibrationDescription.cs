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
            return $"Too little data: {calibration.Attempts} of {ParameterTrend.FewestAttempts} attempts with an own rating.";
        var (who, flying) = (student ?? "You", student is null ? "your own flying" : "the flying");
        var over =
            $"over {Figures.Count(calibration.Attempts, "attempt", "attempts")}, between {Signed(interval.Lo)} and {Signed(interval.Hi)}";
        if (interval.Lo <= 0 && interval.Hi >= 0)
            return $"{who} {(student is null ? "rate" : "rates")} {flying} about as it was measured: {Signed(bias)} {over}.";
        return $"{who} {(student is null ? "rate" : "rates")} {flying} {(bias > 0 ? "better" : "worse")} than it was measured: "
            + $"{Signed(bias)} {over}.";
    }

    /// <summary>+12%, −4%, 0%.</summary>
    public static string Signed(double share)
    {
        var text = Figures.Share(Math.Abs(share));
        return text == "0%" ? text : (share < 0 ? "−" : "+") + text;
    }
}
