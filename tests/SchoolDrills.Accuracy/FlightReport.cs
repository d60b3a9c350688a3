using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Accuracy;

/// <summary>How far the engine was off on flights with known truth, by format and over rough recordings of them.</summary>
internal static class FlightReport
{
    private static readonly (string Name, string File)[] Formats =
    [
        ("gpx", "track.gpx"),
        ("csv", "air.csv"),
        ("igc", "track.igc"),
        ("nmea", "track.nmea"),
        ("kml", "track.kml"),
    ];

    /// <summary>Rough recordings made of each flight, by kind: their noise is drawn anew for each.</summary>
    private const int DrawsOfRough = 3;

    /// <summary>Scores every recording and writes the tables as Markdown.</summary>
    /// <param name="to">Where to.</param>
    /// <param name="flights">The flights.</param>
    /// <param name="templates">Their drills.</param>
    /// <param name="standard">Tolerances.</param>
    /// <param name="verbose">Flight by flight as well, on the console.</param>
    public static void Write(
        TextWriter to,
        IReadOnlyList<TruthFlight> flights,
        IReadOnlyList<DrillTemplate> templates,
        ToleranceStandard standard,
        bool verbose
    )
    {
        var tallies = Formats.ToDictionary(f => f.Name, f => Totals.Of(flights, f.File, templates, standard, verbose));
        var rough = flights
            .SelectMany(f =>
                Enumerable.Range(0, DrawsOfRough).SelectMany(draw => Variants.RoughOf(f, draw).Select(v => (v.Name, f, v.Track)))
            )
            .GroupBy(v => v.Name);
        foreach (var variants in rough)
            tallies[variants.Key] = Totals.Of(variants.Select(v => (v.f, v.Track)), templates, standard, verbose);

        WriteTotals(to, tallies);
        WriteVerdicts(to, tallies);
        WriteErrors(to, tallies);
        foreach (var (format, tally) in tallies)
        {
            foreach (var miss in tally.Misses)
                to.WriteLine($"- {format} {miss}");
        }
    }

    private static void WriteTotals(TextWriter to, Dictionary<string, Tally> tallies)
    {
        to.WriteLine(
            "| format | found | refused | boundary s, median / p95 | share agreement | abstained | errors reported | "
                + "findings confirmed | saturation found |"
        );
        to.WriteLine("| --- | --- | --- | --- | --- | --- | --- | --- | --- |");
        foreach (var (format, t) in tallies)
        {
            to.WriteLine(
                $"| {format} | {t.Found}/{t.Flights} | {t.Refused}/{t.Empty} | {Tally.Quantile(t.BoundaryS, 0.5)} / "
                    + $"{Tally.Quantile(t.BoundaryS, 0.95)} | {t.Agreed}/{t.Shares - t.Abstained} "
                    + $"| {t.Abstained}/{t.Shares} | {t.Reported}/{t.Labelled} | {t.Confirmed}/{t.FindingsCount} | "
                    + $"{t.EpisodesFound}/{t.Episodes} |"
            );
        }

        to.WriteLine();
    }

    private static void WriteVerdicts(TextWriter to, Dictionary<string, Tally> tallies)
    {
        to.WriteLine("| format | verdicts on | as in truth | beyond chance (kappa) | abstained |");
        to.WriteLine("| --- | --- | --- | --- | --- |");
        foreach (var (format, t) in tallies)
        {
            foreach (
                var (about, parameters) in t
                    .Verdicts.Parameters.Select(p => (p.ToString(), new[] { p }))
                    .Prepend(("altitude, heading and airspeed", Verdicts.Deciding))
            )
            {
                var (judged, agreed, abstained, kappa) = t.Verdicts.Of(parameters);
                to.WriteLine($"| {format} | {about} | {agreed}/{judged} ({100.0 * agreed / judged:0.0} %) | {kappa:0.00} | {abstained} |");
            }
        }

        to.WriteLine();
    }

    private static void WriteErrors(TextWriter to, Dictionary<string, Tally> tallies)
    {
        to.WriteLine("| format | quantity | error, median / p95 | inside two sigma |");
        to.WriteLine("| --- | --- | --- | --- |");
        foreach (var (format, t) in tallies)
        {
            foreach (var (quantity, errors) in t.Errors)
            {
                var values = errors.Select(e => e.Error).ToList();
                to.WriteLine(
                    $"| {format} | {quantity} | {Tally.Quantile(values, 0.5)} / {Tally.Quantile(values, 0.95)} | "
                        + $"{100.0 * errors.Count(e => e.Covered) / errors.Count:0} % |"
                );
            }
        }
    }
}
