using SchoolDrills.Accuracy;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;

// Scores every recording of a folder of flights with known truth and prints how far the engine was off, as Markdown. With --state
// only the reconstructed state is compared, over variants of the recordings as well; with --verbose flight by flight.
var verbose = args.Contains("--verbose");
var folder = args.FirstOrDefault(a => !a.StartsWith("--", StringComparison.Ordinal)) ?? "../shared/flights";
if (!Directory.Exists(folder))
{
    Console.Error.WriteLine($"There is no folder {folder}: give the folder that holds the flights as the first argument.");
    return 1;
}

var flights = TruthFlight.In(folder).ToList();
var templates = Catalogue.Templates.Where(t => flights.Any(f => f.Drill == t.Slug)).ToList();
var standard = Catalogue.Standards.Single(s => s.Slug == "instrument-rating");
if (args.Contains("--state")) return StateReport.Print(flights, templates, standard, verbose);

var tallies = new Dictionary<string, Tally>();
foreach (var (format, file) in new[] { ("gpx", "track.gpx"), ("csv", "air.csv"), ("igc", "track.igc"), ("nmea", "track.nmea"), ("kml", "track.kml") })
{
    var tally = tallies[format] = new Tally();
    foreach (var flight in flights.Where(f => File.Exists(Path.Combine(f.Folder, file)))) Compare(flight, file, tally);
}

Console.WriteLine("| format | found | refused | boundary s, median / p95 | share agreement | abstained | errors told | findings borne out | saturation found |");
Console.WriteLine("| --- | --- | --- | --- | --- | --- | --- | --- | --- |");
foreach (var (format, t) in tallies)
{
    Console.WriteLine(
        $"| {format} | {t.Found}/{t.Flights} | {t.Refused}/{t.Empty} | {Tally.Quantile(t.BoundaryS, 0.5)} / {Tally.Quantile(t.BoundaryS, 0.95)} | {t.Agreed}/{t.Shares - t.Abstained} " +
        $"| {t.Abstained}/{t.Shares} | {t.Told}/{t.Labelled} | {t.BorneOut}/{t.FindingsCount} | {t.EpisodesFound}/{t.Episodes} |");
}

Console.WriteLine();
Console.WriteLine("| format | verdicts on | as in truth | beyond chance (kappa) | abstained |");
Console.WriteLine("| --- | --- | --- | --- | --- |");
foreach (var (format, t) in tallies)
{
    foreach (var (about, parameters) in t.Verdicts.Parameters.Select(p => (p.ToString(), new[] { p })).Prepend(("altitude, heading and airspeed", Verdicts.Deciding)))
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
        Console.WriteLine($"| {format} | {quantity} | {Tally.Quantile(values, 0.5)} / {Tally.Quantile(values, 0.95)} | {100.0 * errors.Count(e => e.Covered) / errors.Count:0} % |");
    }
}

foreach (var (format, t) in tallies)
{
    foreach (var miss in t.Misses) Console.WriteLine($"- {format} {miss}");
}

return 0;

void Compare(TruthFlight flight, string file, Tally tally)
{
    using var stream = File.OpenRead(Path.Combine(flight.Folder, file));
    var track = TrackReader.Read(stream).Track!;
    if (flight.Drill == "none")
    {
        foreach (var template in templates)
        {
            tally.Empty++;
            var report = AttemptScorer.Score(track, template, standard, new ScoringOptions()).Report;
            if (report.Found) tally.Misses.Add($"{flight.Id}: {template.Slug} was accepted with confidence {report.Confidence:0.00}");
            else tally.Refused++;
        }

        return;
    }

    tally.Flights++;
    var asked = templates.Single(t => t.Slug == flight.Drill);
    var (scored, drill) = AttemptScorer.ScoreWithState(track, asked, standard, new ScoringOptions());
    if (drill is null)
    {
        tally.Misses.Add($"{flight.Id}: not found, confidence {scored.Report.Confidence:0.00}");
        return;
    }

    tally.Found++;
    Comparison.Add(tally, flight, scored.Report, verbose);
    tally.Verdicts.Add(flight, TruthDrill.Of(flight, asked, standard), scored.Report, verbose);
    StateComparison.Add(tally, flight, drill);
    if (verbose) Console.WriteLine($"  {flight.Id}: entry {drill.Entry.HeadingMagDeg:0} {drill.Entry.AltitudeFt:0} (truth {flight.Truth.GetProperty("entry_heading_mag_deg")} {flight.Truth.GetProperty("base_altitude_ft")}), overall {scored.Report.Overall.Verdict} {scored.Report.Overall.WithinShare:0.00}");
}
