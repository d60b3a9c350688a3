using System.Globalization;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Accuracy;

/// <summary>
/// Errors of the reconstructed state by kind of recording, over the flights as recorded and over <see cref="Variants"/>.
/// </summary>
internal static class StateReport
{
    private static readonly (string Name, string File)[] Recordings =
    [
        ("gpx", "track.gpx"),
        ("csv", "air.csv"),
        ("igc", "track.igc"),
        ("nmea", "track.nmea"),
        ("kml", "track.kml"),
    ];

    /// <summary>Prints the report as Markdown.</summary>
    /// <param name="flights">The flights.</param>
    /// <param name="templates">Their drills.</param>
    /// <param name="standard">Tolerances.</param>
    /// <param name="verbose">Flight by flight as well.</param>
    /// <returns>Exit code.</returns>
    public static int Print(
        IReadOnlyList<TruthFlight> flights,
        IReadOnlyList<DrillTemplate> templates,
        ToleranceStandard standard,
        bool verbose
    )
    {
        var kinds = new Dictionary<string, List<(string Flight, Tally Tally)>>();
        foreach (var flight in flights.Where(f => f.Drill != "none"))
        {
            foreach (var (name, file) in Recordings.Where(r => flight.Has(r.File)))
                Compare(name, flight, flight.Read(file), default);

            foreach (var variant in Variants.Of(flight))
                Compare(variant.Name, flight, variant.Track, variant.AddedWind);
        }

        Console.WriteLine("Error, median / p95, and share inside two sigma:");
        Console.WriteLine();
        string[] quantities =
        [
            "heading, deg",
            "altitude, ft",
            "altitude about the level, ft",
            "vertical speed, fpm",
            "turn rate, deg/s",
            "airspeed, kt",
            "wind vector, kt",
        ];
        Console.WriteLine($"| recording | {string.Join(" | ", quantities)} |");
        Console.WriteLine($"| --- |{string.Concat(quantities.Select(_ => " --- |"))}");
        foreach (var (kind, tallies) in kinds)
        {
            if (verbose)
            {
                foreach (var (flight, tally) in tallies)
                    Row($"{kind} {flight[..3]}", [tally]);
            }

            Row(verbose ? $"**{kind}**" : kind, tallies.ConvertAll(t => t.Tally));
        }

        return 0;

        static List<(double Error, bool Covered)> Errors(IReadOnlyList<Tally> tallies, string quantity) =>
            [.. tallies.Where(t => t.Errors.ContainsKey(quantity)).SelectMany(t => t.Errors[quantity])];

        void Row(string name, IReadOnlyList<Tally> tallies) =>
            Console.WriteLine($"| {name} | {string.Join(" | ", quantities.Select(q => Cell(Errors(tallies, q))))} |");

        void Compare(string kind, TruthFlight flight, Track track, (double EastKt, double NorthKt) addedWind)
        {
            if (!kinds.TryGetValue(kind, out var list))
                kinds[kind] = list = [];
            var tally = new Tally();
            list.Add((flight.Id, tally));
            var (_, drill) = AttemptScorer.ScoreWithState(
                track,
                templates.Single(t => t.Slug == flight.Drill),
                standard,
                new ScoringOptions()
            );
            if (drill is null)
                Console.WriteLine($"- {kind} {flight.Id}: not found");
            else
                StateComparison.Add(tally, flight, drill, addedWind);
        }
    }

    private static string Cell(List<(double Error, bool Covered)> errors)
    {
        if (errors.Count == 0)
            return "-";
        var values = errors.ConvertAll(e => e.Error);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{Tally.Quantile(values, 0.5)} / {Tally.Quantile(values, 0.95)}, {100.0 * errors.Count(e => e.Covered) / errors.Count:0} %"
        );
    }
}
