namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// Finds altitude columns that hold metres although feet were expected of them: over windows of half a minute such an altitude changes by
/// 0.3048 of what the recorded vertical speed adds up to in feet or, where that was not recorded, of what another altitude changes by. The
/// middle half of all windows must agree, so that neither a lagging instrument nor a noisy altitude is taken for it.
/// </summary>
internal static class CsvAltitudeCheck
{
    private const double WindowS = 30;
    private const double LeastClimbFt = 80;
    private const int LeastWindows = 8;

    private static readonly TrackColumn[] Altitudes =
        [TrackColumn.GpsAltitudeFt, TrackColumn.PressureAltitudeFt, TrackColumn.IndicatedAltitudeFt];

    public static void Correct(CsvHeader header, TrackBuilder builder)
    {
        var inFeet = Altitudes.Where(c => !builder.Values(c).IsEmpty && SaysFeet(header, c)).ToList();
        var suspects = builder.Values(TrackColumn.VerticalSpeedFpm).IsEmpty
            ? inFeet.Where(c => inFeet.Any(other => other != c && HoldsMetres(builder, c, ChangesFt(builder, other)))).ToList()
            : inFeet.Where(c => HoldsMetres(builder, c, VerticalSpeedSteps(builder))).ToList();
        foreach (var column in suspects)
        {
            foreach (ref var value in builder.Values(column))
                value *= TrackUnits.FtPerM;
            builder.Warn($"Column \"{header.Cells[header.Found[column.Name()]]}\" should hold feet, but it changes as metres would; it was taken as metres.");
        }
    }

    private static bool SaysFeet(CsvHeader header, TrackColumn column) =>
        header.Units[header.Found[column.Name()]] is var unit && (unit.Length == 0 || CsvUnit.For(column, unit) == CsvUnit.Same);

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
        var altitudeFt = builder.Values(column);
        var ratios = new List<double>();
        var start = 0;
        var climbFt = 0.0;
        for (var i = 1; i < altitudeFt.Length; i++)
        {
            climbFt += stepsFt[i];
            // Gaps and times that run backwards end a window; what it had is not used.
            if (builder.TimeS(i) - builder.TimeS(i - 1) is <= 0 or > 10 || !double.IsFinite(climbFt) || !double.IsFinite(altitudeFt[start]))
                (start, climbFt) = (i, 0);
            if (builder.TimeS(i) - builder.TimeS(start) < WindowS)
                continue;
            if (Math.Abs(climbFt) >= LeastClimbFt && double.IsFinite(altitudeFt[i]))
                ratios.Add((altitudeFt[i] - altitudeFt[start]) / climbFt);
            (start, climbFt) = (i, 0);
        }
        if (ratios.Count < LeastWindows)
            return false;
        ratios.Sort();
        return ratios[ratios.Count / 4] > 0.22 && ratios[ratios.Count / 2] is > 0.27 and < 0.34 && ratios[ratios.Count * 3 / 4] < 0.40;
    }
}
