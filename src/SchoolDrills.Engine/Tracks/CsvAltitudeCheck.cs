using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// Finds altitude columns that hold metres although feet were expected of them: over windows of 20 s such an altitude changes by
/// 0.3048 of what the recorded vertical speed adds up to in feet or, where that was not recorded, of what another altitude changes by. Only
/// a clear slope counts, so that neither a lagging instrument nor a noisy altitude is mistaken for metres.
/// </summary>
internal static class CsvAltitudeCheck
{
    private const double WindowS = 20;
    private const int LeastWindows = 8;

    /// <summary>Feet and metres lie 0.7 apart, so this leaves ten standard errors and more between them.</summary>
    private const double MostStandardError = 0.06;

    private static readonly TrackColumn[] Altitudes =
    [
        TrackColumn.GpsAltitudeFt,
        TrackColumn.PressureAltitudeFt,
        TrackColumn.IndicatedAltitudeFt,
    ];

    public static void Correct(CsvHeader header, TrackBuilder builder)
    {
        var inFeet = Altitudes.Where(c => !builder.Values(c).IsEmpty && SaysFeet(header, c)).ToList();
        var suspects = builder.Values(TrackColumn.VerticalSpeedFpm).IsEmpty
            ? inFeet.Where(c => inFeet.Any(other => other != c && HoldsMetres(builder, c, ChangesFt(builder, other)))).ToList()
            : inFeet.Where(c => HoldsMetres(builder, c, VerticalSpeedSteps(builder))).ToList();
        // A column too noisy to decide takes the unit whose value it is nearest to.
        if (suspects.Count > 0)
            suspects.AddRange(inFeet.Except(suspects).Where(c => LiesBy(builder, c, suspects[0])).ToList());
        foreach (var column in suspects)
        {
            foreach (ref var value in builder.Values(column))
                value = Units.MToFt(value);
            builder.Warn(
                $"Column \"{header.Names[header.Found[column.Name()]]}\" should hold feet, but it changes as "
                    + "metres would; it was taken as metres."
            );
        }
    }

    private static bool SaysFeet(CsvHeader header, TrackColumn column) =>
        !header.UnitIsManual(column.Name())
        && header.Units[header.Found[column.Name()]] is var unit
        && (unit.Length == 0 || CsvUnit.For(column, unit) == CsvUnit.Same);

    /// <summary>Whether a column's median is near that of a column known to be in metres, and far from that value in feet.</summary>
    private static bool LiesBy(TrackBuilder builder, TrackColumn column, TrackColumn inMetres)
    {
        var (value, metres) = (Median(builder.Values(column)), Median(builder.Values(inMetres)));
        return Math.Abs(value - metres) < 0.25 * Math.Abs(value - Units.MToFt(metres));
    }

    private static double Median(ReadOnlySpan<double> values)
    {
        var finite = values.ToArray().Where(double.IsFinite).Order().ToArray();
        return finite.Length == 0 ? double.NaN : finite[finite.Length / 2];
    }

    /// <summary>What each sample climbed since the one before by the vertical speed, feet.</summary>
    private static double[] VerticalSpeedSteps(TrackBuilder builder)
    {
        var verticalSpeedFpm = builder.Values(TrackColumn.VerticalSpeedFpm);
        var stepsFt = new double[builder.Count];
        for (var i = 1; i < stepsFt.Length; i++)
            stepsFt[i] = verticalSpeedFpm[i] * (builder.TimeS(i) - builder.TimeS(i - 1)) / 60;
        return stepsFt;
    }

    /// <summary>What each sample climbed since the one before by another altitude, feet.</summary>
    private static double[] ChangesFt(TrackBuilder builder, TrackColumn column)
    {
        var altitudeFt = builder.Values(column);
        var stepsFt = new double[builder.Count];
        for (var i = 1; i < stepsFt.Length; i++)
            stepsFt[i] = altitudeFt[i] - altitudeFt[i - 1];
        return stepsFt;
    }

    private static bool HoldsMetres(TrackBuilder builder, TrackColumn column, double[] stepsFt)
    {
        var windows = Windows(builder, builder.Values(column), stepsFt);
        if (windows.Count < LeastWindows)
            return false;
        // The weighted median of the windows' ratios is the robust slope of a line through the origin.
        windows.Sort((a, b) => (a.ChangeFt / a.ClimbFt).CompareTo(b.ChangeFt / b.ClimbFt));
        var half = windows.Sum(w => Math.Abs(w.ClimbFt)) / 2;
        var at = 0;
        for (var sum = Math.Abs(windows[0].ClimbFt); sum < half; sum += Math.Abs(windows[at].ClimbFt))
            at++;
        var slope = windows[at].ChangeFt / windows[at].ClimbFt;
        var residuals = windows.Select(w => Math.Abs(w.ChangeFt - slope * w.ClimbFt)).Order().ToArray();
        var standardError = 1.4826 * residuals[residuals.Length / 2] / Math.Sqrt(windows.Sum(w => w.ClimbFt * w.ClimbFt));
        return slope is > 0.24 and < 0.37 && standardError < MostStandardError;
    }

    private static List<(double ClimbFt, double ChangeFt)> Windows(TrackBuilder builder, ReadOnlySpan<double> altitudeFt, double[] stepsFt)
    {
        var windows = new List<(double, double)>();
        var start = 0;
        var climbFt = 0.0;
        for (var i = 1; i < altitudeFt.Length; i++)
        {
            climbFt += stepsFt[i];
            // Gaps and times that run backwards end a window, and it is not used.
            if (builder.TimeS(i) - builder.TimeS(i - 1) is <= 0 or > 10 || !double.IsFinite(climbFt) || !double.IsFinite(altitudeFt[start]))
                (start, climbFt) = (i, 0);
            if (builder.TimeS(i) - builder.TimeS(start) < WindowS)
                continue;
            if (climbFt != 0 && double.IsFinite(altitudeFt[i]))
                windows.Add((climbFt, altitudeFt[i] - altitudeFt[start]));
            (start, climbFt) = (i, 0);
        }
        return windows;
    }
}
