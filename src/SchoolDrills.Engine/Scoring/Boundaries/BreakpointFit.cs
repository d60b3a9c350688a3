namespace SchoolDrills.Engine.Scoring;

/// <summary>Where and for what a breakpoint is looked for. Times are seconds on the samples' clock.</summary>
/// <param name="FromS">Flight before this is not used.</param>
/// <param name="ToS">Flight after this is not used.</param>
/// <param name="AboutS">Where the breakpoint is expected.</param>
/// <param name="LengthS">Time over which the rate changes, seconds.</param>
/// <param name="ExpectedChange">Change of the rate, in the quantity's unit per second.</param>
/// <param name="SearchS">How far from <paramref name="AboutS"/> it is looked for, seconds.</param>
/// <param name="AheadS">How far ahead of <paramref name="AboutS"/> it usually is, seconds.</param>
/// <param name="AheadScaleS">Scale of the scatter of that, seconds.</param>
internal readonly record struct BreakpointSearch(
    double FromS,
    double ToS,
    double AboutS,
    double LengthS,
    double ExpectedChange,
    double SearchS = BoundaryModel.SearchS,
    double AheadS = BoundaryModel.RollAheadS,
    double AheadScaleS = BoundaryModel.AheadScaleS
);

/// <summary>
/// Finds when a quantity starts to change its rate: a line that bends into another over a given time is fitted at every quarter second,
/// and the starts are averaged by their likelihoods.
/// </summary>
internal static class BreakpointFit
{
    /// <summary>Fewest samples that show a breakpoint.</summary>
    private const int LeastSamples = 6;

    /// <summary>Squares that an exact line leaves, so that their logarithm is finite.</summary>
    private const double Exact = 1e-9;

    /// <summary>Step of the search, and the least flight before a breakpoint, seconds.</summary>
    private const double StepS = 0.25,
        LeastBeforeS = 2;

    /// <summary>
    /// Start of the breakpoint; null where none of about the expected size and sense is there. A start is the likelier the less scatter it
    /// leaves, of unknown size and lasting <see cref="BoundaryModel.ScatterLastsS"/>, and the nearer place and change are to the usual.
    /// </summary>
    /// <param name="timeS">Sample times, seconds.</param>
    /// <param name="values">The quantity.</param>
    /// <param name="search">Where to look, and for what.</param>
    public static Onset? Start(double[] timeS, double[] values, BreakpointSearch search)
    {
        var (fromS, toS, aboutS, lengthS, expectedChange, searchS, aheadS, aheadScaleS) = search;
        // A slow recording needs a wider window for as many samples.
        var intervalS = timeS.Length < 2 ? 0 : (timeS[^1] - timeS[0]) / (timeS.Length - 1);
        var gapS = LongestGapS(
            timeS,
            aboutS - BoundaryModel.FitBeforeS,
            aboutS + BoundaryModel.FitAfterS,
            BoundaryModel.LongGapIntervals * intervalS
        );
        var widerS = Math.Max(gapS, (LeastSamples / 2 * intervalS) - BoundaryModel.FitBeforeS);
        widerS = Math.Max(widerS, searchS - BoundaryModel.SearchS);
        searchS += gapS / 2;
        fromS = Math.Max(fromS, aboutS - BoundaryModel.FitBeforeS - widerS);
        toS = Math.Min(toS, aboutS + BoundaryModel.FitAfterS + widerS);
        var first = SortedTimes.LowerBound(timeS, fromS);
        var end = SortedTimes.LowerBound(timeS, toS);
        if (end - first < LeastSamples)
            return null;
        var tried = new List<(double AtS, double LogLikelihood)>();
        var independent = (toS - fromS) / BoundaryModel.ScatterLastsS;
        for (var s = Math.Max(aboutS - searchS, fromS + LeastBeforeS); s <= Math.Min(aboutS + searchS, toS - (lengthS / 2)); s += StepS)
        {
            var (change, squares) = Fit(timeS.AsSpan(first..end), values.AsSpan(first..end), s, lengthS);
            var share = change / expectedChange;
            if (share is < BoundaryModel.LeastChangeShare or > BoundaryModel.MostChangeShare || double.IsInfinity(squares))
                continue;
            var logLikelihood =
                (-independent / 2 * Math.Log(squares + Exact))
                + Student3.LogRelative(Math.Log(share) / BoundaryModel.ChangeScatter)
                + Student3.LogRelative((s - aboutS + aheadS) / aheadScaleS);
            tried.Add((s, logLikelihood));
        }

        return tried.Count == 0 ? null : Mean(tried);
    }

    private static Onset Mean(List<(double AtS, double LogLikelihood)> tried)
    {
        var (aboutS, most) = tried.MaxBy(t => t.LogLikelihood);
        double sum = 0,
            off = 0,
            squares = 0;
        foreach (var (atS, logLikelihood) in tried)
        {
            var weight = Math.Exp(logLikelihood - most);
            sum += weight;
            off += weight * (atS - aboutS);
            squares += weight * (atS - aboutS) * (atS - aboutS);
        }

        off /= sum;
        return new(aboutS + off, Math.Sqrt(Math.Max(0, (squares / sum) - (off * off))));
    }

    /// <summary>The longest time without a sample in a window, seconds; 0 where none is longer than usual.</summary>
    private static double LongestGapS(double[] timeS, double fromS, double toS, double usualS)
    {
        var gapS = 0.0;
        for (var i = Math.Max(1, SortedTimes.LowerBound(timeS, fromS)); i < timeS.Length && timeS[i - 1] < toS; i++)
            gapS = Math.Max(gapS, timeS[i] - timeS[i - 1]);
        return gapS > Math.Max(BoundaryModel.LongGapS, usualS) ? gapS : 0;
    }

    private static (double Change, double Squares) Fit(ReadOnlySpan<double> timeS, ReadOnlySpan<double> values, double atS, double lengthS)
    {
        // Normal equations of value = p + q t + change · bend(t), with t from the breakpoint.
        double n = 0,
            t1 = 0,
            t2 = 0,
            b1 = 0,
            b2 = 0,
            tb = 0,
            v1 = 0,
            tv = 0,
            bv = 0,
            vv = 0;
        var origin = values[0];
        for (var i = 0; i < values.Length; i++)
        {
            if (!double.IsFinite(values[i]))
                continue;
            var t = timeS[i] - atS;
            var bend =
                t <= 0 ? 0
                : t < lengthS ? t * t / (2 * lengthS)
                : t - (lengthS / 2);
            var v = values[i] - origin;
            n++;
            t1 += t;
            t2 += t * t;
            b1 += bend;
            b2 += bend * bend;
            tb += t * bend;
            v1 += v;
            tv += t * v;
            bv += bend * v;
            vv += v * v;
        }

        // Project the line out of bend and value, then regress one on the other.
        var determinant = (n * t2) - (t1 * t1);
        if (n < LeastSamples || determinant <= 0)
            return (0, double.PositiveInfinity);
        var (bp, bq) = (((b1 * t2) - (tb * t1)) / determinant, ((n * tb) - (t1 * b1)) / determinant);
        var (vp, vq) = (((v1 * t2) - (tv * t1)) / determinant, ((n * tv) - (t1 * v1)) / determinant);
        var bendLeft = b2 - (bp * b1) - (bq * tb);
        var bothLeft = bv - (bp * v1) - (bq * tv);
        var valueLeft = vv - (vp * v1) - (vq * tv);
        if (bendLeft <= 1e-9)
            return (0, double.PositiveInfinity);
        return (bothLeft / bendLeft, valueLeft - (bothLeft * bothLeft / bendLeft));
    }
}
