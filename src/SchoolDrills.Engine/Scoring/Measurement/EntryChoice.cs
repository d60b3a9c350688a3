using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// The heading and altitude that were meant, from those that were held: instructors give whole tens and hundreds far more often than
/// others, and what was held says how much of that to believe.
/// </summary>
internal static class EntryChoice
{
    /// <summary>The likeliest entry heading, degrees, and one standard deviation of what is left open.</summary>
    /// <param name="heldDeg">Heading held, degrees.</param>
    /// <param name="sigmaDeg">One standard deviation of it, degrees.</param>
    public static (double HeadingDeg, double SigmaDeg) Heading(double heldDeg, double sigmaDeg)
    {
        var candidates = new List<(double Value, double Weight)>();
        for (var deg = Math.Floor(heldDeg / 5) * 5 - 20; deg <= heldDeg + 25; deg += 5)
        {
            var given = deg % HandlingModel.HeadingStepDeg == 0 ? HandlingModel.HeadingsInTens : HandlingModel.HeadingsInFives;
            candidates.Add((deg, given * Gaussian(deg - heldDeg, sigmaDeg)));
        }

        // Any other heading: as dense as the fives are far apart, and then known no better than it was held.
        candidates.Add((Math.Round(heldDeg), HandlingModel.HeadingsOtherwise * sigmaDeg * Math.Sqrt(2 * Math.PI) / 5));
        var (value, sigma) = Choose(candidates);
        return (Angles.NormalizeDeg(value), sigma);
    }

    /// <summary>The likeliest entry altitude, feet, and one standard deviation of what is left open.</summary>
    /// <param name="heldFt">Level held by the recording's altitude, feet.</param>
    /// <param name="sigmaFt">One standard deviation of its distance from the altimeter, feet.</param>
    /// <param name="templateFt">The drill's own entry altitude, feet: likelier than others.</param>
    public static (double AltitudeFt, double SigmaFt) Altitude(double heldFt, double sigmaFt, double templateFt)
    {
        var candidates = new List<(double Value, double Weight)> { (templateFt, Weight(templateFt, HandlingModel.TemplateAltitude)) };
        const double step = HandlingModel.AltitudeStepFt;
        var reachFt = (4 * sigmaFt) + step;
        for (var ft = Math.Floor((heldFt - reachFt) / step) * step; ft <= heldFt + reachFt; ft += step)
        {
            if (ft != templateFt)
                candidates.Add((ft, Weight(ft, 1)));
        }

        return Choose(candidates);

        double Weight(double ft, double times) => times * Gaussian(ft - heldFt, sigmaFt);
    }

    /// <summary>The likeliest candidate with the root mean square of how far the others are from it.</summary>
    private static (double Value, double Sigma) Choose(List<(double Value, double Weight)> candidates)
    {
        var best = candidates.MaxBy(c => c.Weight).Value;
        var sum = candidates.Sum(c => c.Weight);
        return sum > 0 ? (best, Math.Sqrt(candidates.Sum(c => c.Weight * (c.Value - best) * (c.Value - best)) / sum)) : (best, double.NaN);
    }

    private static double Gaussian(double error, double sigma) => Math.Exp(-error * error / (2 * sigma * sigma));
}
