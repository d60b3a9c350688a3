using System.Globalization;
using SchoolDrills.Accuracy;
using SchoolDrills.Accuracy.Flown;
using SchoolDrills.Engine.Drills;

// Scores every recording of a folder of flights with known truth (the project's own if none is given) and prints how far the engine
// was off, as Markdown. With --state
// only the reconstructed state is compared, over variants of the recordings as well; with --verbose flight by flight. With --flown 200
// so many flights flown by program are scored instead, those of seeds from --seed (1) on.
var verbose = args.Contains("--verbose");
var standard = Catalogue.Standards.Single(s => s.Slug == "instrument-rating");
if (Number("--flown") is { } count)
    return FlownReport.Print(Number("--seed") ?? 1, count, standard, verbose);

var folder = args.FirstOrDefault(a => !a.StartsWith("--", StringComparison.Ordinal)) ?? TruthFlight.OwnFolder;
if (!Directory.Exists(folder))
{
    Console.Error.WriteLine($"There is no folder {folder}: give the folder that holds the flights as the first argument.");
    return 1;
}

var flights = TruthFlight.In(folder).ToList();
var templates = Catalogue.Templates.Where(t => flights.Any(f => f.Drill == t.Slug)).ToList();
if (args.Contains("--state"))
    return StateReport.Print(flights, templates, standard, verbose);

var tallies = new[]
{
    ("gpx", "track.gpx"),
    ("csv", "air.csv"),
    ("igc", "track.igc"),
    ("nmea", "track.nmea"),
    ("kml", "track.kml"),
}.ToDictionary(f => f.Item1, f => Totals.Of(flights, f.Item2, templates, standard, verbose));
foreach (
    var variants in flights
        .SelectMany(f => Enumerable.Range(0, 3).SelectMany(d => Variants.RoughOf(f, d).Select(v => (v.Name, Flight: f, v.Track))))
        .GroupBy(v => v.Name)
)
{
    tallies[variants.Key] = Totals.Of(variants.Select(v => (v.Flight, v.Track)), templates, standard, verbose);
}

Console.WriteLine(
    "| format | found | refused | boundary s, median / p95 | share agreement | abstained | errors told | "
        + "findings borne out | saturation found |"
);
Console.WriteLine("| --- | --- | --- | --- | --- | --- | --- | --- | --- |");
foreach (var (format, t) in tallies)
{
    Console.WriteLine(
        $"| {format} | {t.Found}/{t.Flights} | {t.Refused}/{t.Empty} | {Tally.Quantile(t.BoundaryS, 0.5)} / "
            + $"{Tally.Quantile(t.BoundaryS, 0.95)} | {t.Agreed}/{t.Shares - t.Abstained} "
            + $"| {t.Abstained}/{t.Shares} | {t.Told}/{t.Labelled} | {t.BorneOut}/{t.FindingsCount} | {t.EpisodesFound}/{t.Episodes} |"
    );
}

Console.WriteLine();
Console.WriteLine("| format | verdicts on | as in truth | beyond chance (kappa) | abstained |");
Console.WriteLine("| --- | --- | --- | --- | --- |");
foreach (var (format, t) in tallies)
{
    foreach (
        var (about, parameters) in t
            .Verdicts.Parameters.Select(p => (p.ToString(), new[] { p }))
            .Prepend(("altitude, heading and airspeed", Verdicts.Deciding))
    )
    {
        var (judged, agreed, abstained, kappa) = t.Verdicts.Of(parameters);
        Console.WriteLine($"| {format} | {about} | {agreed}/{judged} ({100.0 * agreed / judged:0.0} %) | {kappa:0.00} | {abstained} |");
    }
}

Console.WriteLine();
Console.WriteLine("| format | quantity | error, median / p95 | inside two sigma |");
Console.WriteLine("| --- | --- | --- | --- |");
foreach (var (format, t) in tallies)
{
    foreach (var (quantity, errors) in t.Errors)
    {
        var values = errors.Select(e => e.Error).ToList();
        Console.WriteLine(
            $"| {format} | {quantity} | {Tally.Quantile(values, 0.5)} / {Tally.Quantile(values, 0.95)} | "
                + $"{100.0 * errors.Count(e => e.Covered) / errors.Count:0} % |"
        );
    }
}

foreach (var (format, t) in tallies)
{
    foreach (var miss in t.Misses)
        Console.WriteLine($"- {format} {miss}");
}

return 0;

int? Number(string name) =>
    Array.IndexOf(args, name) is >= 0 and var at && at + 1 < args.Length ? int.Parse(args[at + 1], CultureInfo.InvariantCulture) : null;
