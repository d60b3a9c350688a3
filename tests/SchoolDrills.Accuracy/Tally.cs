using System.Globalization;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Accuracy;

/// <summary>Counts over the recordings of one format.</summary>
internal sealed class Tally
{
    public int Flights { get; set; }

    public int Found { get; set; }

    /// <summary>Drills that a person could recognize, and those of them that were found.</summary>
    public int Recognizable { get; set; }

    public int RecognizableFound { get; set; }

    /// <summary>What was found with which confidence, and whether it truly is the drill.</summary>
    public List<(double Confidence, bool Truly)> Finds { get; } = [];

    public int Empty { get; set; }

    public int Refused { get; set; }

    public int Shares { get; set; }

    public int Abstained { get; set; }

    public int Agreed { get; set; }

    /// <summary>Errors made on purpose and whether a finding named them, by kind.</summary>
    public List<(string Kind, bool Reported)> Purposes { get; } = [];

    /// <summary>The same of errors that a debriefing could not hold against the pilot.</summary>
    public List<(string Kind, bool Reported)> Slight { get; } = [];

    /// <summary>Findings and whether the true state bears them out, by kind.</summary>
    public List<(FindingKind Kind, bool Confirmed)> Findings { get; } = [];

    /// <summary>Stated probabilities of findings and whether they were true.</summary>
    public List<(double Stated, bool True)> FindingChances { get; } = [];

    public int Labelled => Purposes.Count;

    public int Reported => Purposes.Count(p => p.Reported);

    public int FindingsCount => Findings.Count;

    public int Confirmed => Findings.Count(f => f.Confirmed);

    public int Episodes { get; set; }

    public int EpisodesFound { get; set; }

    /// <summary>Verdicts compared with those on the true state.</summary>
    public Verdicts Verdicts { get; } = new();

    public List<double> BoundaryS { get; } = [];

    public List<string> Misses { get; } = [];

    /// <summary>Signed errors of the reconstructed columns and whether two sigma cover them, by quantity.</summary>
    public Dictionary<string, List<(double Error, bool Covered)>> Errors { get; } = [];

    public void Add(string quantity, double error, double sigma)
    {
        if (!double.IsFinite(error))
            return;
        if (!Errors.TryGetValue(quantity, out var list))
            Errors[quantity] = list = [];
        list.Add((error, Math.Abs(error) <= 2 * sigma));
    }

    /// <summary>Adds the counts of another tally.</summary>
    public void Absorb(Tally other)
    {
        Flights += other.Flights;
        Found += other.Found;
        Recognizable += other.Recognizable;
        RecognizableFound += other.RecognizableFound;
        Finds.AddRange(other.Finds);
        Empty += other.Empty;
        Refused += other.Refused;
        Shares += other.Shares;
        Abstained += other.Abstained;
        Agreed += other.Agreed;
        Episodes += other.Episodes;
        EpisodesFound += other.EpisodesFound;
        Purposes.AddRange(other.Purposes);
        Slight.AddRange(other.Slight);
        Findings.AddRange(other.Findings);
        FindingChances.AddRange(other.FindingChances);
        BoundaryS.AddRange(other.BoundaryS);
        Misses.AddRange(other.Misses);
        Verdicts.Absorb(other.Verdicts);
        foreach (var (quantity, errors) in other.Errors)
        {
            if (!Errors.TryGetValue(quantity, out var list))
                Errors[quantity] = list = [];
            list.AddRange(errors);
        }
    }

    /// <summary>Quantile of the absolute values; NaN when there are none.</summary>
    public static double SizeAt(IEnumerable<double> values, double q)
    {
        var sorted = values.Select(Math.Abs).Order().ToArray();
        if (sorted.Length == 0)
            return double.NaN;
        var position = q * (sorted.Length - 1);
        var low = (int)position;
        var high = Math.Min(low + 1, sorted.Length - 1);
        return sorted[low] + ((sorted[high] - sorted[low]) * (position - low));
    }

    public static string Quantile(IEnumerable<double> values, double q) =>
        SizeAt(values, q) is var size && double.IsNaN(size) ? "-" : size.ToString("0.00", CultureInfo.InvariantCulture);
}
