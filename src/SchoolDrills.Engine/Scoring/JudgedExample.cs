using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// A minute of invented flying judged by a standard, to show what the standard does. The flying is made up; the judgement is the one
/// that attempts get.
/// </summary>
/// <param name="Title">What is flown, in a few words.</param>
/// <param name="TimeS">Seconds from the segment's start.</param>
/// <param name="Tolerances">Deviation at each of them, in tolerances: 1 is the edge of the band.</param>
/// <param name="Verdict">What it comes to.</param>
/// <param name="Why">The numbers that made it.</param>
public sealed record JudgedExample(string Title, IReadOnlyList<double> TimeS, IReadOnlyList<double> Tolerances, Verdict Verdict, string Why)
{
    private const int LengthS = 60;

    /// <summary>Excursions put right at once, one left standing, and one that goes far, each judged by the standard.</summary>
    /// <param name="standard">The standard; it has no <see cref="StandardProblems"/>.</param>
    /// <param name="parameter">What is measured.</param>
    /// <param name="within">The tolerance, in the parameter's unit.</param>
    public static IReadOnlyList<JudgedExample> Of(ToleranceStandard standard, Parameter parameter, double within)
    {
        // Half of what counts as prompt, and twice of it; at a standard that forgives nothing, moments all the same.
        var (briefS, longS) = (Math.Clamp(standard.PromptCorrectionS / 2, 2, 20), Math.Clamp(standard.PromptCorrectionS * 2, 6, 40));
        return
        [
            Flown("Put right at once", [(12, briefS, 1.4), (40, briefS, -1.3)]),
            Flown("Left standing", [(12, longS, 1.3)]),
            Flown("Gone far", [(20, briefS, 2.3)]),
        ];

        JudgedExample Flown(string title, (double FromS, double LastsS, double Size)[] excursions)
        {
            double[] timeS = [.. Enumerable.Range(0, (LengthS * 2) + 1).Select(i => i / 2.0)];
            double[] tolerances = [.. timeS.Select(t => excursions.Aggregate(0.35 * Math.Sin(t / 4.5), (at, e) => Blend(at, e, t)))];
            var exceedances = excursions
                .Select(e => new Exceedance(e.FromS, e.FromS + e.LastsS, e.Size * within, e.FromS + (e.LastsS / 2)))
                .ToList();
            var worst = exceedances.MaxBy(e => Math.Abs(e.Worst));
            var deviation = new Deviation(
                parameter,
                within,
                Sigma: 0,
                tolerances.Average(Math.Abs) * within,
                tolerances.Average() * within,
                Math.Sqrt(tolerances.Average(d => d * d)) * within,
                worst.Worst,
                worst.WorstAtS,
                LengthS,
                exceedances.Sum(e => e.DurationS),
                exceedances
            );
            var (verdict, why) = Judge.OnDeviation(deviation, standard);
            return new JudgedExample(title, timeS, tolerances, verdict, why);
        }
    }

    // Out over two seconds, there, and back over two; outside the band from the first second named to the last.
    private static double Blend(double steady, (double FromS, double LastsS, double Size) excursion, double timeS)
    {
        const double slopeS = 2;
        var lead = slopeS / Math.Abs(excursion.Size);
        var into = (timeS - excursion.FromS + lead) / slopeS;
        var outOf = (excursion.FromS + excursion.LastsS + lead - timeS) / slopeS;
        var share = Math.Clamp(Math.Min(into, outOf), 0, 1);
        return (steady * (1 - share)) + (excursion.Size * share);
    }
}
