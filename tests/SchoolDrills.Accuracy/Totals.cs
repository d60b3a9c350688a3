using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Accuracy;

/// <summary>Scores recordings of many flights and counts how they compare with the truth.</summary>
internal static class Totals
{
    public static Tally Of(
        IReadOnlyList<TruthFlight> flights,
        string file,
        IReadOnlyList<DrillTemplate> templates,
        ToleranceStandard standard,
        bool verbose = false
    ) => Of(flights.Where(f => f.Has(file)).Select(f => (f, f.Read(file))), templates, standard, verbose);

    public static Tally Of(
        IEnumerable<(TruthFlight Flight, Track Track)> recordings,
        IReadOnlyList<DrillTemplate> templates,
        ToleranceStandard standard,
        bool verbose = false
    )
    {
        var tally = new Tally();
        foreach (var (flight, track) in recordings)
            Compare(flight, track, tally, templates, standard, verbose);
        return tally;
    }

    /// <summary>Adds one recording: a flight with a drill is scored for that drill, one without a drill for every template.</summary>
    public static void Compare(
        TruthFlight flight,
        Track track,
        Tally tally,
        IReadOnlyList<DrillTemplate> templates,
        ToleranceStandard standard,
        bool verbose
    )
    {
        if (flight.Drill == "none")
        {
            Refuse(flight, track, tally, templates);
            return;
        }

        tally.Flights++;
        tally.Recognizable += flight.IsRecognizable ? 1 : 0;
        var planned = templates.Single(t => t.Slug == flight.Drill);
        var (scored, drill) = AttemptScorer.ScoreWithState(track, planned, standard, new ScoringOptions());
        if (drill is null)
        {
            tally.Misses.Add($"{flight.Id}: not found, confidence {scored.Report.Confidence:0.00}");
            return;
        }

        var truly = IsTrue(flight, scored.Report.Runs.Single(r => r.Scored));
        tally.Finds.Add((scored.Report.Confidence, truly));
        if (!truly)
        {
            tally.Misses.Add($"{flight.Id}: found where it is not, confidence {scored.Report.Confidence:0.00}");
            return;
        }

        tally.Found++;
        tally.RecognizableFound += flight.IsRecognizable ? 1 : 0;
        Comparison.Add(tally, flight, scored.Report, verbose);
        tally.Verdicts.Add(flight, TruthDrill.Of(flight, planned, standard), scored.Report, verbose);
        StateComparison.Add(tally, flight, drill);
        if (verbose)
        {
            Console.WriteLine(
                $"  {flight.Id}: entry {drill.Entry.HeadingMagDeg:0} {drill.Entry.AltitudeFt:0} (truth "
                    + $"{flight.Truth.GetProperty("entry_heading_mag_deg")} "
                    + $"{flight.Truth.GetProperty("base_altitude_ft")}), overall {scored.Report.Overall.Verdict} "
                    + $"{scored.Report.Overall.WithinShare:0.00}"
            );
        }
    }

    /// <summary>What was found shares at least half of its time, and of the drill's, with the drill.</summary>
    private static bool IsTrue(TruthFlight flight, DrillRun run)
    {
        var shared =
            (run.EndUtc < flight.EndUtc ? run.EndUtc : flight.EndUtc) - (run.StartUtc > flight.StartUtc ? run.StartUtc : flight.StartUtc);
        return shared >= 0.5 * (run.EndUtc - run.StartUtc) && shared >= 0.5 * (flight.EndUtc - flight.StartUtc);
    }

    /// <summary>Looks for drills in a flight that holds none.</summary>
    private static void Refuse(TruthFlight flight, Track track, Tally tally, IReadOnlyList<DrillTemplate> templates)
    {
        var options = new ScoringOptions();
        var reconstructed = ReconstructedFlight.Of(track, options);
        foreach (var template in templates)
        {
            tally.Empty++;
            if (reconstructed is not null && DrillFinder.Find(reconstructed, template, options) is { IsFound: true } found)
            {
                tally.Misses.Add($"{flight.Id}: {template.Slug} was accepted with confidence {found.Confidence:0.00}");
                tally.Finds.Add((found.Confidence, false));
            }
            else
            {
                tally.Refused++;
            }
        }
    }
}
