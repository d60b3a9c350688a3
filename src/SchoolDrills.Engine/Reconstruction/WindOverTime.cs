namespace SchoolDrills.Engine.Reconstruction;

/// <summary>
/// The wind over a whole recording: solved in overlapping stretches, interpolated between them, and replaced by the wind that was entered
/// where that has the smaller sigma.
/// </summary>
internal static class WindOverTime
{
    /// <summary>The wind of each stretch with the middle of it, seconds; stretches that show no wind are not among them.</summary>
    public static List<(double CentreS, WindField Wind)> Solve(GroundMotion motion, KnownConditions known)
    {
        var stretches = new List<(double, WindField)>();
        double first = motion.TimeS[0],
            last = motion.TimeS[^1];
        for (var fromS = first; fromS == first || fromS + (WindModel.StretchS / 2) < last; fromS += WindModel.StretchS / 2)
        {
            var toS = Math.Min(fromS + WindModel.StretchS, last);
            var wind = Better(WindEstimator.FromTurns(motion, fromS, toS), known);
            if (wind.Source != WindSource.None)
                stretches.Add(((fromS + toS) / 2, wind));
        }

        return stretches;
    }

    /// <summary>The solved wind, or the one that was entered where that has the smaller sigma or the solved one is of no use.</summary>
    public static WindField Better(WindField solved, KnownConditions known) =>
        solved.SigmaKt <= WindModel.UsableSigmaKt && !(known.Wind is { } given && given.SigmaKt < solved.SigmaKt)
            ? solved
            : known.Wind ?? WindField.Unknown;

    /// <summary>The wind at a time, between the two stretches whose middles are nearest.</summary>
    public static WindField At(List<(double CentreS, WindField Wind)> stretches, double timeS)
    {
        if (stretches.Count == 0)
            return WindField.Unknown;
        var after = stretches.FindIndex(s => s.CentreS >= timeS);
        if (after <= 0)
            return stretches[after == 0 ? 0 : ^1].Wind;
        var (fromS, a) = stretches[after - 1];
        var (toS, b) = stretches[after];
        var share = (timeS - fromS) / (toS - fromS);
        var (bEast, bNorth) = b.At(a.ReferenceAltitudeFt);
        return a with
        {
            EastKt = a.EastKt + (share * (bEast - a.EastKt)),
            NorthKt = a.NorthKt + (share * (bNorth - a.NorthKt)),
            EastPerKft = a.EastPerKft + (share * (b.EastPerKft - a.EastPerKft)),
            NorthPerKft = a.NorthPerKft + (share * (b.NorthPerKft - a.NorthPerKft)),
            SigmaKt = Math.Max(a.SigmaKt, b.SigmaKt),
        };
    }

    /// <summary>Root mean square of the wind's sigma over the heights flown in a part.</summary>
    public static double SigmaKt(WindField wind, GroundMotion motion, double fromS, double toS)
    {
        double sum = 0;
        var count = 0;
        for (var i = motion.FirstFrom(fromS); i < motion.TimeS.Length && motion.TimeS[i] <= toS; i++)
        {
            sum += Math.Pow(wind.SigmaKtAt(motion.AltitudeFt[i]), 2);
            count++;
        }

        return count == 0 ? wind.SigmaKt : Math.Sqrt(sum / count);
    }
}
