using System.Globalization;
using SchoolDrills.Accuracy;
using SchoolDrills.Accuracy.Demo;
using SchoolDrills.Accuracy.Flown;
using SchoolDrills.Engine.Drills;

// Scores flights with known truth and prints how far the engine is off, as Markdown:
//   [FOLDER]            every recording of a folder of flights; without a folder, of the project's own
//   [FOLDER] --state    the reconstructed state alone, over variants of the recordings as well
//   --flown 150         so many simulated flights instead, those of seeds from --seed (1) on
//   --flown train       those of a named range of seeds: train, validate or test
//   --none 20           so many flights of an hour without a drill, asked for every drill, from --seed (1) on
//   --fit               what the training flights give for the engine's constants
//   --write             all figures, into src/SchoolDrills.Engine/ACCURACY.md
//   --demo FOLDER       writes the demo school's recordings that are flown by program
//   --verbose           flight by flight as well
CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
var verbose = args.Contains("--verbose");
var standard = Catalogue.Standards.Single(s => s.Slug == "instrument-rating");
if (args.Contains("--write"))
{
    Console.WriteLine(AccuracyPage.Write(standard, DateOnly.FromDateTime(DateTime.UtcNow)));
    return 0;
}

if (Value("--flown") is { } range && SeedSplit.Named(range) is { } split)
    return FlownReport.Print(split.FirstSeed, split.Count, standard, verbose);
if (Number("--flown") is { } count)
    return FlownReport.Print(Number("--seed") ?? 1, count, standard, verbose);

if (Number("--none") is { } empty)
    return NoDrillReport.Print(Number("--seed") ?? 1, empty);

if (Value("--demo") is { } demo)
    return DemoFlights.Write(demo, standard);

if (args.Contains("--fit"))
    return ConstantsFit.Print(SeedSplit.Train);

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
FlightReport.Write(Console.Out, flights, templates, standard, verbose);
return 0;

string? Value(string name) => Array.IndexOf(args, name) is >= 0 and var at && at + 1 < args.Length ? args[at + 1] : null;

int? Number(string name) => Value(name) is { } value ? int.Parse(value, CultureInfo.InvariantCulture) : null;
