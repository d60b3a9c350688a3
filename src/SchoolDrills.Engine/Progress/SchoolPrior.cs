using MathNet.Numerics.Distributions;

namespace SchoolDrills.Engine.Progress;

/// <summary>What is expected of a student of whom nothing is known: how the school's other students do.</summary>
/// <remarks>
/// A beta distribution. Its mean is the share not met of all others together; its strength, how many samples of the student's own weigh
/// as much, follows from how far the others differ among themselves beyond chance, by moments (Kleinman, J. C., "Proportions with
/// extraneous variance", Journal of the American Statistical Association 68, 1973, 46–54; from memory, checked by simulation). With
/// fewer than five others it is Jeffreys' prior: even odds, one sample strong.
/// </remarks>
/// <param name="NotMetShare">Mean share not met, 0 to 1.</param>
/// <param name="Strength">Samples it weighs.</param>
/// <param name="Students">Other students it was taken from; 0 where it is Jeffreys'.</param>
public sealed record SchoolPrior(double NotMetShare, double Strength, int Students)
{
    /// <summary>Even odds, one sample strong.</summary>
    public static readonly SchoolPrior Jeffreys = new(0.5, 1, 0);

    /// <summary>The prior of one group.</summary>
    /// <param name="others">What other students flew in it, one entry a student.</param>
    public static SchoolPrior Of(IEnumerable<SegmentTally> others)
    {
        var students = others.Where(t => t.Segments > 0).Select(t => (t.Samples, Share: (double)t.NotMet / t.Segments)).ToList();
        if (students.Count < ProgressModel.FewestStudents)
            return Jeffreys;
        var all = students.Sum(s => s.Samples);
        // A school in which all or none fail still leaves the next student a chance.
        var mean = (students.Sum(s => s.Samples * s.Share) + 0.5) / (all + 1);
        return new(mean, StrengthOf(students, all, mean), students.Count);
    }

    /// <summary>The student's own evidence added.</summary>
    /// <param name="notMet">Samples not met.</param>
    /// <param name="samples">Samples.</param>
    internal Beta With(double notMet, double samples) =>
        new((NotMetShare * Strength) + notMet, ((1 - NotMetShare) * Strength) + samples - notMet);

    private static double StrengthOf(List<(double Samples, double Share)> students, double all, double mean)
    {
        var (spread, chance, room) = (0.0, 0.0, 0.0);
        foreach (var (samples, share) in students)
        {
            var weight = samples / all;
            spread += weight * (share - mean) * (share - mean) / (mean * (1 - mean));
            chance += weight * (1 - weight) / samples;
            room += weight * (1 - weight);
        }

        // Correlation of two samples of one student: none leaves the strongest prior.
        var correlation = (spread - chance) / Math.Max(room - chance, 1e-9);
        return correlation <= 0
            ? ProgressModel.MostStrength
            : Math.Clamp((1 / correlation) - 1, ProgressModel.LeastStrength, ProgressModel.MostStrength);
    }
}

/// <summary>What one student flew in a group, counted.</summary>
/// <param name="Group">Like segments.</param>
/// <param name="Attempts">Attempts with a verdict on one of them.</param>
/// <param name="Segments">Segments with a verdict.</param>
/// <param name="NotMet">Of these, not met.</param>
public sealed record SegmentTally(SegmentGroup Group, int Attempts, int Segments, int NotMet)
{
    /// <summary>Independent samples in them: segments of one attempt repeat one another in part.</summary>
    /// <remarks>Design effect of clusters: Kish, L., "Survey Sampling", Wiley 1965, from memory.</remarks>
    internal double Samples => SamplesOf(Attempts, Segments);

    /// <summary>The same of counts alone.</summary>
    internal static double SamplesOf(int attempts, int segments) =>
        segments / (1 + (((segments / (double)attempts) - 1) * ProgressModel.WithinAttemptCorrelation));
}
