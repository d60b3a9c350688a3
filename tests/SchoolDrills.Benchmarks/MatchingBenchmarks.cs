using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Benchmarks;

/// <summary>What it costs to look for the whole catalogue in one recording: reconstructed once, and once for each drill.</summary>
internal static class MatchingBenchmarks
{
    private static readonly ToleranceStandard Standard = Catalogue.Standards.Single(s => s.Slug == "instrument-rating");

    public static void Run()
    {
        Console.WriteLine("| recording | drills | reconstructed once ms | a scoring for each drill ms | ratio |");
        Console.WriteLine("| --- | --- | --- | --- | --- |");
        foreach (var minutes in new[] { 20, 60 })
        {
            var track = ReaderBenchmarks.Read(Writer.Write(LongFlight.Of(minutes, 1), "gpx"));
            var paired = Paired.Of(
                5,
                () =>
                {
                    var flight = ReconstructedFlight.Of(track, new ScoringOptions())!;
                    foreach (var template in Catalogue.Templates)
                        DrillFinder.Find(flight, template, new ScoringOptions());
                },
                () =>
                {
                    foreach (var template in Catalogue.Templates)
                        AttemptScorer.Score(track, template, Standard, new ScoringOptions());
                }
            );
            Console.WriteLine(
                string.Create(
                    System.Globalization.CultureInfo.InvariantCulture,
                    $"| gpx, {minutes} min, 1 Hz | {Catalogue.Templates.Count} | {paired.OursMs:0} | "
                        + $"{paired.TheirsMs:0} | {paired.Ratio:0.00} |"
                )
            );
        }
    }
}
