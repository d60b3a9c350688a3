using System.Globalization;

namespace SchoolDrills.Accuracy;

/// <summary>What was counted over the flights of one format.</summary>
internal sealed class Tally
{
    public int Flights { get; set; }

    public int Found { get; set; }

    public int Empty { get; set; }

    public int Refused { get; set; }

    public int Shares { get; set; }

    public int Abstained { get; set; }

    public int Agreed { get; set; }

    public int Labelled { get; set; }

    public int Told { get; set; }

    public int FindingsCount { get; set; }

    public int BorneOut { get; set; }

    public int Episodes { get; set; }

    public int EpisodesFound { get; set; }

    /// <summary>Verdicts beside those on what really happened.</summary>
    public Verdicts Verdicts { get; } = new();

    public List<double> BoundaryS { get; } = [];

    public List<string> Misses { get; } = [];

    /// <summary>Signed errors of the reconstructed columns and whether two sigma cover them, by quantity.</summary>
    public Dictionary<string, List<(double Error, bool Covered)>> Errors { get; } = [];

    public void Add(string quantity, double error, double sigma)
    {
        if (!double.IsFinite(error)) return;
        if (!Errors.TryGetValue(quantity, out var list)) Errors[quantity] = list = [];
        list.Add((error, Math.Abs(error) <= 2 * sigma));
    }

    public static string Quantile(IEnumerable<double> values, double q)
    {
        var sorted = values.Select(Math.Abs).Order().ToArray();
        if (sorted.Length == 0) return "-";
        var position = q * (sorted.Length - 1);
        var low = (int)position;
        var high = Math.Min(low + 1, sorted.Length - 1);
        return (sorted[low] + ((sorted[high] - sorted[low]) * (position - low))).ToString("0.00", CultureInfo.InvariantCulture);
    }
}
