using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// How much an altitude changes for what something else says was climbed, over windows of 20 s: 1 where both are in feet, 0.3048 where the
/// altitude is in metres. Only a clear slope counts, so that neither a lagging instrument nor a noisy altitude is mistaken for metres.
/// </summary>
/// <param name="Slope">The slope.</param>
/// <param name="StandardError">Its standard error.</param>
internal readonly record struct ClimbSlope(double Slope, double StandardError)
{
    private const double WindowS = 20;
    private const int LeastWindows = 8;

    /// <summary>Feet and metres lie 0.7 apart, so this leaves ten standard errors and more between them.</summary>
    private const double MostStandardError = 0.06;

    public bool IsMetres => Slope is > 0.24 and < 0.37 && StandardError < MostStandardError;

    public bool IsFeet => IsNear(1);

    /// <summary>Whether it is this slope, with the same limits as for metres, in proportion.</summary>
    public bool IsNear(double slope) => Math.Abs(Slope - slope) < 0.21 * slope && StandardError < MostStandardError / Units.MPerFt * slope;

    /// <summary>The slope of an altitude over what each sample climbed since the one before, feet; none without enough windows.</summary>
    public static ClimbSlope Of(TrackBuilder builder, ReadOnlySpan<double> altitude, double[] stepsFt)
    {
        var windows = Windows(builder, altitude, stepsFt);
        if (windows.Count < LeastWindows)
            return default;
        // The weighted median of the windows' ratios is the robust slope of a line through the origin.
        windows.Sort((a, b) => (a.Change / a.ClimbFt).CompareTo(b.Change / b.ClimbFt));
        var half = windows.Sum(w => Math.Abs(w.ClimbFt)) / 2;
        var at = 0;
        for (var sum = Math.Abs(windows[0].ClimbFt); sum < half; sum += Math.Abs(windows[at].ClimbFt))
            at++;
        var slope = windows[at].Change / windows[at].ClimbFt;
        var residuals = windows.Select(w => Math.Abs(w.Change - slope * w.ClimbFt)).Order().ToArray();
        return new(slope, 1.4826 * residuals[residuals.Length / 2] / Math.Sqrt(windows.Sum(w => w.ClimbFt * w.ClimbFt)));
    }

    private static List<(double ClimbFt, double Change)> Windows(TrackBuilder builder, ReadOnlySpan<double> altitude, double[] stepsFt)
    {
        var windows = new List<(double, double)>();
        var start = 0;
        var climbFt = 0.0;
        for (var i = 1; i < altitude.Length; i++)
        {
            climbFt += stepsFt[i];
            // Gaps and times that run backwards end a window, and it is not used.
            if (builder.TimeS(i) - builder.TimeS(i - 1) is <= 0 or > 10 || !double.IsFinite(climbFt) || !double.IsFinite(altitude[start]))
                (start, climbFt) = (i, 0);
            if (builder.TimeS(i) - builder.TimeS(start) < WindowS)
                continue;
            if (climbFt != 0 && double.IsFinite(altitude[i]))
                windows.Add((climbFt, altitude[i] - altitude[start]));
            (start, climbFt) = (i, 0);
        }
        return windows;
    }
}
