using System.Globalization;
using SchoolDrills.Accuracy.Flown;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Accuracy;

/// <summary>Writes the accuracy figures beside the engine, with the day, the engine's version and the command.</summary>
internal static class AccuracyPage
{
    /// <summary>Scores all flights and writes the page.</summary>
    /// <param name="standard">Tolerances.</param>
    /// <param name="today">Day that the page gives.</param>
    /// <returns>Path of the page.</returns>
    public static string Write(ToleranceStandard standard, DateOnly today)
    {
        var seeds = SeedSplit.Test;
        var recorded = TruthFlight.In(TruthFlight.OwnFolder).ToList();
        var templates = Catalogue.Templates.Where(t => recorded.Any(f => f.Drill == t.Slug)).ToList();
        using var page = new StringWriter(CultureInfo.InvariantCulture) { NewLine = "\n" };
        page.WriteLine(
            $"""
            # How well the engine scores

            Written on {today:yyyy-MM-dd} with engine {AttemptScorer.EngineVersion} by
            `dotnet run -c Release --project tests/SchoolDrills.Accuracy -- --write`. Do not edit it by hand.

            Every figure compares a report with what really happened in a simulated flight, by the tolerances of `{standard.Slug}`.

            | Column | Meaning |
            | --- | --- |
            | found | recordings in which the engine found the drill where it was flown, of those that contain it |
            | of recognizable | the same of drills that a person could tell, by the rule below |
            | refused | drills that are not in a recording and that the engine did not find there, of those tried |
            | boundary s | error of the starts and ends of segments, seconds; a segment ends with the first movement out of it |
            | wind kt | error of the wind vector, knots |
            | share agreement | shares of time in tolerance that are within 0.10 of the true share, or on the same side of 0.8 |
            | verdicts as in truth | verdicts on altitude, heading and airspeed equal to those on the true state with the true boundaries |
            | kappa | the same beyond chance (Cohen 1960) |
            | not judged, abstained | verdicts or shares not given, because the recording does not show the quantity well enough |
            | errors reported | errors made on purpose that a finding names, of those that a debriefing could hold against the pilot |
            | findings confirmed | findings that the true state confirms |
            | saturation | episodes of saturation that the engine found |
            | inside two sigma | errors within twice the sigma that the engine gives; 95 % would be exact |

            ## Flights that the engine has not seen

            Simulated flights of seeds {seeds.FirstSeed} to {seeds.LastSeed}: five invented aeroplanes from a two-seat trainer to a light
            twin, modelled by their lags, in wind that changes with height and time, and gusts; pilots of every skill with a scan,
            dead-bands, leads and habits of their own; every drill of the catalogue to either side, alone or within a whole flight,
            with pauses, repetitions and false starts as lessons have them, and flights of an hour without a drill; none, one or two
            errors on purpose; receivers from ten positions a second to one in five, and phones. `{nameof(Population)}` has the shares.
            Constants were fitted on seeds {SeedSplit.Train.FirstSeed} to {SeedSplit.Train.LastSeed}, and changes judged by seeds
            {SeedSplit.Validate.FirstSeed} to {SeedSplit.Validate.LastSeed}. The aeroplanes are simpler than that of the truth flights
            below, and the errors on purpose are harsher than most students make.
            """
        );
        FlownReport.WriteTables(page, FlownReport.Score(seeds.FirstSeed, seeds.Count, standard));
        page.WriteLine(
            """

            ## Truth flights

            The fifteen flights of a flight dynamics model in `tests/SchoolDrills.Accuracy/Flights`, in every format they were recorded in,
            and rough recordings made from their true path: three draws of each kind of noise for each flight. Constants were fitted
            on these
            flights.

            """
        );
        FlightReport.Write(page, recorded, templates, standard, verbose: false);
        var path = Path.Combine(Root(), "src", "SchoolDrills.Engine", "ACCURACY.md");
        File.WriteAllText(path, page.ToString());
        return path;
    }

    private static string Root()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "SchoolDrills.sln")))
                return folder.FullName;
        }

        throw new DirectoryNotFoundException("The program does not lie inside the project.");
    }
}
