using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>What the engine finds in hours of flight that hold no drill.</summary>
internal static class NoDrillReport
{
    /// <summary>Asks flights of an hour for every drill of the catalogue, in either hand, and prints what is found.</summary>
    /// <returns>Exit code.</returns>
    public static int Print(int firstSeed, int count)
    {
        List<(string Format, string Drill, int Seed, double Confidence)> finds = [];
        var asked = Catalogue.Templates.SelectMany(t => new[] { t, t with { Entry = t.Entry with { Mirrored = !t.Entry.Mirrored } } });
        var drills = asked.ToList();
        foreach (var seed in Enumerable.Range(firstSeed, count))
        {
            var flight = FlownFlight.WithoutDrill(seed);
            foreach (var track in Recorder.Both(flight))
            {
                if (ReconstructedFlight.Of(track, new ScoringOptions()) is not { } reconstructed)
                    continue;
                finds.AddRange(
                    drills
                        .Select(drill => DrillFinder.Find(reconstructed, drill, new ScoringOptions()))
                        .Where(found => found.IsFound)
                        .Select(found => (track.Format, found.Template.Slug, seed, found.Confidence))
                );
            }
        }

        Console.WriteLine($"{count} flights of an hour without a drill, each asked for {drills.Count} drills:");
        Console.WriteLine();
        Console.WriteLine("| recording | found | of asked | flights with any |");
        Console.WriteLine("| --- | --- | --- | --- |");
        foreach (var format in Recorder.Formats)
        {
            var of = finds.Where(f => f.Format == format).ToList();
            var flights = of.Select(f => f.Seed).Distinct().Count();
            Console.WriteLine($"| {format} | {of.Count} | {100.0 * of.Count / (count * drills.Count):0.0} % | {flights}/{count} |");
        }

        Console.WriteLine();
        foreach (var drill in finds.GroupBy(f => f.Drill).OrderByDescending(g => g.Count()))
            Console.WriteLine($"- {drill.Key}: {drill.Count()}, confidence up to {drill.Max(f => f.Confidence):0.00}");
        return 0;
    }
}
