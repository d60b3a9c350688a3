namespace SchoolDrills.Accuracy.Flown;

/// <summary>Whether the sigmas and confidences that the engine states are true.</summary>
internal static class Calibration
{
    /// <summary>Every quantity whose errors a tally holds with the stated sigma may stand here.</summary>
    private static readonly (string Name, string Quantity)[] Quantities =
    [
        ("wind vector", StateComparison.Wind),
        ("heading", "heading, deg"),
        ("airspeed", "airspeed, kt"),
        ("altitude", "altitude, ft"),
        ("altitude about the level", "altitude about the level, ft"),
        ("boundary", Comparison.Boundary),
    ];

    private static readonly (string Name, double From, double To)[] Skills =
    [
        ("lowest third", 0, 1 / 3.0),
        ("middle third", 1 / 3.0, 2 / 3.0),
        ("highest third", 2 / 3.0, 1.01),
    ];

    private static readonly double[] Bins = [0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.99, 1.01];

    private static readonly double[] ChanceBins = [0.5, 0.7, 0.9, 1.01];

    /// <summary>Writes how often two sigma cover the error, by recording and the pilot's skill.</summary>
    public static void WriteSigmas(TextWriter to, IReadOnlyList<FlownResult> results)
    {
        to.WriteLine();
        to.WriteLine(
            "Share of errors inside two stated sigma, 95 % if they are exact; of the wind's mean error in a drill, inside the ellipse that "
                + "holds 95 %. Altitude is beside the altimeter, which positions alone do not show: deviations are judged about the level."
        );
        to.WriteLine();
        to.WriteLine($"| recording | skill | drills | {string.Join(" | ", Quantities.Select(q => q.Name))} |");
        to.WriteLine($"| --- | --- | --- |{string.Concat(Quantities.Select(_ => " --- |"))}");
        foreach (var format in results.GroupBy(r => r.Format))
        {
            foreach (var (name, from, below) in Skills)
            {
                var sum = FlownReport.Sum(format.Where(r => r.Skill >= from && r.Skill < below));
                to.WriteLine(
                    $"| {format.Key} | {name} | {sum.Found} | {string.Join(" | ", Quantities.Select(q => Covered(sum, q.Quantity)))} |"
                );
            }
        }
    }

    /// <summary>Writes how many drills found with some confidence are truly there.</summary>
    public static void WriteConfidence(TextWriter to, IReadOnlyList<FlownResult> results)
    {
        to.WriteLine();
        to.WriteLine(
            "Drills found, by stated confidence. Found truly is what covers at least half of the drill's time. A flight without a drill is "
                + "asked for every drill of the catalogue."
        );
        to.WriteLine();
        to.WriteLine("| recording | confidence | mean | found truly where asked | found where none was flown |");
        to.WriteLine("| --- | --- | --- | --- | --- |");
        foreach (var format in results.GroupBy(r => r.Format))
        {
            foreach (var (from, below) in Bins.Zip(Bins.Skip(1)))
            {
                var asked = Within(format.Where(r => r.Tally.Empty == 0));
                var none = Within(format.Where(r => r.Tally.Empty > 0));
                var all = asked.Concat(none).Select(f => f.Confidence).ToList();
                to.WriteLine(
                    $"| {format.Key} | {from:0.00} to {Math.Min(below, 1):0.00} | {(all.Count == 0 ? "-" : $"{all.Average():0.00}")} | "
                        + $"{asked.Count(f => f.Truly)}/{asked.Count} | {none.Count} |"
                );

                List<(double Confidence, bool Truly)> Within(IEnumerable<FlownResult> of) =>
                    [.. of.SelectMany(r => r.Tally.Finds).Where(f => f.Confidence >= from && f.Confidence < below)];
            }
        }
    }

    /// <summary>Writes how often verdicts and findings are true, by their stated probability.</summary>
    public static void WriteProbabilities(TextWriter to, IReadOnlyList<FlownResult> results)
    {
        to.WriteLine();
        to.WriteLine("Verdicts on altitude, heading and airspeed, and findings, by stated probability: how many of them are true.");
        to.WriteLine();
        to.WriteLine("| recording | probability | verdicts: stated | true | findings: stated | true |");
        to.WriteLine("| --- | --- | --- | --- | --- | --- |");
        foreach (var format in results.GroupBy(r => r.Format))
        {
            var sum = FlownReport.Sum(format);
            foreach (var (from, below) in ChanceBins.Zip(ChanceBins.Skip(1)))
            {
                to.WriteLine(
                    $"| {format.Key} | {from:0.0} to {Math.Min(below, 1):0.0} | {Within(sum.Verdicts.Chances)} "
                        + $"| {Within(sum.FindingChances)} |"
                );

                string Within(List<(double Stated, bool True)> all)
                {
                    var part = all.Where(c => c.Stated >= from && c.Stated < below).ToList();
                    return part.Count == 0
                        ? "- | -"
                        : $"{100 * part.Average(c => c.Stated):0} % | {100.0 * part.Count(c => c.True) / part.Count:0} % of {part.Count}";
                }
            }
        }
    }

    private static string Covered(Tally sum, string quantity) =>
        sum.Errors.TryGetValue(quantity, out var errors) ? $"{100.0 * errors.Count(e => e.Covered) / errors.Count:0} %" : "-";
}
