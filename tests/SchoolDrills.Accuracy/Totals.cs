using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Accuracy;

/// <summary>What is counted over every flight that was recorded in one way.</summary>
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

    /// <summary>Adds one recording of a flight: of a drill scored for that one, of none held against every template.</summary>
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
            foreach (var template in templates)
            {
                tally.Empty++;
                var report = AttemptScorer.Score(track, template, standard, new ScoringOptions()).Report;
                if (report.Found)
                    tally.Misses.Add($"{flight.Id}: {template.Slug} was accepted with confidence {report.Confidence:0.00}");
                else
                    tally.Refused++;
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
        if (verbose)
            Console.WriteLine(
                $"  {flight.Id}: entry {drill.Entry.HeadingMagDeg:0} {drill.Entry.AltitudeFt:0} (truth "
                    + $"{flight.Truth.GetProperty("entry_heading_mag_deg")} "
                    + $"{flight.Truth.GetProperty("base_altitude_ft")}), overall {scored.Report.Overall.Verdict} "
                    + $"{scored.Report.Overall.WithinShare:0.00}"
            );
    }
}
