namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// Finds when a quantity starts to change its rate: the least-squares fit of a line plus a bend of given duration, tried at every
/// quarter second.
/// </summary>
internal static class BreakpointFit
{
    /// <summary>How far from where it is expected the bend is looked for, seconds.</summary>
    private const double SearchS = 9;

    /// <summary>Flight used on either side of a bend, seconds.</summary>
    private const double BeforeS = 12,
        AfterS = 14;

    /// <summary>Fewest samples that show a bend.</summary>
    private const int LeastSamples = 6;

    /// <summary>Step of the search, seconds.</summary>
    private const double StepS = 0.25;

    /// <summary>The start of the bend; null where none of about the expected size and sense is there.</summary>
    /// <param name="timeS">Sample times, seconds.</param>
    /// <param name="values">The quantity.</param>
    /// <param name="fromS">Flight before this is not looked at, seconds.</param>
    /// <param name="toS">Flight after this is not looked at, seconds.</param>
    /// <param name="aboutS">Where the bend is expected, seconds.</param>
    /// <param name="lengthS">Time over which the rate changes, seconds.</param>
    /// <param name="expectedChange">Change of the rate, per second.</param>
    /// <param name="searchS">How far from there it is looked for, seconds.</param>
    public static double? StartS(
        double[] timeS,
        double[] values,
        double fromS,
        double toS,
        double aboutS,
        double lengthS,
        double expectedChange,
        double searchS = SearchS
    )
    {
        // A slow recording needs a wider look for as many samples.
        var intervalS = timeS.Length < 2 ? 0 : (timeS[^1] - timeS[0]) / (timeS.Length - 1);
        var gapS = GapS(timeS, aboutS - BeforeS, aboutS + AfterS, 4 * intervalS);
        var widerS = Math.Max(gapS, (LeastSamples / 2 * intervalS) - BeforeS);
        searchS += gapS / 2;
        fromS = Math.Max(fromS, aboutS - BeforeS - widerS);
        toS = Math.Min(toS, aboutS + AfterS + widerS);
        var first = Math.Max(0, SortedTimes.LowerBound(timeS, fromS));
        var last = Math.Min(timeS.Length, SortedTimes.LowerBound(timeS, toS));
        if (last - first < LeastSamples)
            return null;
        double? bestS = null;
        var least = double.PositiveInfinity;
        for (var s = Math.Max(aboutS - searchS, fromS + 2); s <= Math.Min(aboutS + searchS, toS - (lengthS / 2)); s += StepS)
        {
            var (change, squares) = Fit(timeS, values, first, last, s, lengthS);
            if (change / expectedChange is < 0.35 or > 2.5)
                continue;
            if (squares >= least)
                continue;
            least = squares;
            bestS = s;
        }

        return bestS;
    }

    /// <summary>The longest time without a sample in a window, seconds; 0 where none is longer than usual.</summary>
    private static double GapS(double[] timeS, double fromS, double toS, double usualS)
    {
        var gapS = 0.0;
        for (var i = Math.Max(1, SortedTimes.LowerBound(timeS, fromS)); i < timeS.Length && timeS[i - 1] < toS; i++)
            gapS = Math.Max(gapS, timeS[i] - timeS[i - 1]);
        return gapS > Math.Max(5, usualS) ? gapS : 0;
    }

    private static (double Change, double Squares) Fit(double[] timeS, double[] values, int first, int last, double atS, double lengthS)
    {
        // Normal equations of value = p + q t + change · bend(t), with t from the bend.
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
        var origin = values[first];
        for (var i = first; i < last; i++)
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

        // Project line out of bend and value, then regress one on the other.
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
