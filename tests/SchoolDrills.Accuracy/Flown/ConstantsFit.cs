using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>
/// What simulated flights with known truth give for the constants of the engine by maximum likelihood, beside the values they have.
/// </summary>
internal static class ConstantsFit
{
    /// <summary>Shorter than this, straight flight beside a drill does not set it off, seconds.</summary>
    private const double ShortestFlankS = 4;

    private const double GridStepS = 2;

    /// <summary>Prints the table as Markdown.</summary>
    /// <returns>Exit code.</returns>
    public static int Print(SeedSplit seeds)
    {
        var course = new CourseCounts();
        List<FlownSample> samples = [];
        foreach (var seed in Enumerable.Range(seeds.FirstSeed, seeds.Count))
        {
            var flight = FlownFlight.Fly(seed);
            course.Add(flight);
            if (flight.Timeline is not null)
                samples.AddRange(FlownSample.Of(flight));
        }

        Console.WriteLine($"Constants of {nameof(ReadingModel)} by maximum likelihood over seeds {seeds.FirstSeed} to {seeds.LastSeed}:");
        Console.WriteLine();
        Console.WriteLine("| constant | value | fitted | observations | of what |");
        Console.WriteLine("| --- | --- | --- | --- | --- |");
        Rates(samples);
        Ends(samples);
        Course(course);
        return 0;
    }

    private static void Row(string name, double value, double fitted, int observations, string what) =>
        Console.WriteLine($"| {name} | {value} | {fitted:G3} | {observations} | {what} |");

    private static void Rates(List<FlownSample> samples)
    {
        var held = samples.Where(s => s.StepS == GridStepS).SelectMany(s => s.Rates).ToList();
        var turns = new RateFit(ReadingModel.TurnRateScaleDegPerS);
        foreach (var h in held)
            turns.Add(h.DegPerS, h.PlannedDegPerS, [(0, 1)], 1 + Math.Pow(h.PlannedDegPerS / AlignmentModel.Rate45DegPerS, 2));
        var climbs = new RateFit(ReadingModel.VerticalSpeedScaleFpm);
        foreach (var h in held)
            climbs.Add(h.Fpm, h.PlannedFpm, ReadingModel.LevelDrifts, 1);
        turns.Fit();
        climbs.Fit();
        var (turnS, climbS) = (turns.CorrelationS(GridStepS), climbs.CorrelationS(GridStepS));
        var steps = turns.Count + climbs.Count;
        const string keptWide = "steps of the grid; kept wider, since narrower finds hardly more drills at as many false finds";
        Row(
            "CorrelationS",
            ReadingModel.CorrelationS,
            (turnS + climbS) / 2,
            steps,
            $"turn rates {turnS:0.0} s, vertical speeds {climbS:0.0} s"
        );
        Row("TurnRateScaleDegPerS", ReadingModel.TurnRateScaleDegPerS, turns.Scale, turns.Count, keptWide);
        Row("VerticalSpeedScaleFpm", ReadingModel.VerticalSpeedScaleFpm, climbs.Scale, climbs.Count, keptWide);
        foreach (var (share, probability) in ReadingModel.Rates)
        {
            var chosen = turns.Chosen(share) + climbs.Chosen(share);
            var all = turns.Maneuvers + climbs.Maneuvers;
            Row($"Rates {share}", probability, chosen / (double)all, all, "turns and climbs; the likeliest share of each, kept wider");
        }

        foreach (var (fpm, probability) in ReadingModel.LevelDrifts)
            Row($"LevelDrifts {fpm}", probability, climbs.Drifted(fpm) / (double)climbs.Level, climbs.Level, "level segments");
    }

    private static void Ends(List<FlownSample> samples)
    {
        var turns = samples.SelectMany(s => s.TurnEnds).ToList();
        var climbs = samples.SelectMany(s => s.ClimbEnds).ToList();
        var speeds = samples.SelectMany(s => s.SpeedErrorsKt).ToList();
        var (turnDeg, turnsFromEntry) = Likelihood.Ends(turns, 60);
        var (climbFt, climbsFromEntry) = Likelihood.Ends(climbs, 1000);
        Row("TurnEndDeg", ReadingModel.TurnEndDeg, turnDeg, turns.Count, "turns");
        Row("ClimbEndFt", ReadingModel.ClimbEndFt, climbFt, climbs.Count, "climbs and descents");
        Row(
            "FromEntry",
            ReadingModel.FromEntry,
            ((turns.Count * turnsFromEntry) + (climbs.Count * climbsFromEntry)) / (turns.Count + climbs.Count),
            turns.Count + climbs.Count,
            $"turns {turnsFromEntry:0.00}, climbs {climbsFromEntry:0.00}; simulated pilots always aim at the plan, people do not"
        );
        Row("SpeedEndKt", ReadingModel.SpeedEndKt, Likelihood.StudentScale(speeds, 60), speeds.Count, "changes of airspeed");
    }

    private static void Course(CourseCounts c)
    {
        const string onPurpose = "as often as errors on purpose are drawn: more than students make, not to be copied";
        Row("ManeuverMeanS", ReadingModel.ManeuverMeanS, c.HeldS / c.Holds, c.Holds, "rates held in general handling");
        Row("SkippedManeuver", ReadingModel.SkippedManeuver, c.SkippedManeuvers / (double)c.Maneuvers, c.Maneuvers, onPurpose);
        Row("SkippedStraight", ReadingModel.SkippedStraight, c.SkippedStraights / (double)c.Straights, c.Straights, onPurpose);
        Row(
            "OtherFlight",
            ReadingModel.OtherFlight,
            c.OtherFlightS.Count / (double)c.Joints,
            c.Joints,
            "as often as the population has it: not to be copied"
        );
        Row(
            "OtherFlightMeanS",
            ReadingModel.OtherFlightMeanS,
            c.OtherFlightS.Average(),
            c.OtherFlightS.Count,
            "as often as the population has it: not to be copied"
        );
        Row("GivenUp", ReadingModel.GivenUp, c.GivenUp / (double)c.Joints, c.Joints, onPurpose);
        Row("WrongWay", ReadingModel.WrongWay, c.WrongWay / (double)c.Turns, c.Turns, onPurpose);
        var (scatter, untimed, wide) = Likelihood.Lengths(c.StraightsS);
        Row("StraightScatterShare", ReadingModel.StraightScatterShare, scatter, c.StraightsS.Count, "straights between maneuvers");
        Row("UntimedShare", ReadingModel.UntimedShare, untimed, c.StraightsS.Count, "the same");
        Row("UntimedScatter", ReadingModel.UntimedScatter, wide, c.StraightsS.Count, "the same");
        Row(
            "NoFlank",
            ReadingModel.NoFlank,
            c.FlanksS.Count(s => s < ShortestFlankS) / (double)c.FlanksS.Count,
            c.FlanksS.Count,
            $"outer maneuvers with less than {ShortestFlankS} s of straight flight beside them"
        );
        Row(
            "FlankS",
            ReadingModel.FlankS,
            c.FlanksS.Order().ElementAt(c.FlanksS.Count / 2),
            c.FlanksS.Count,
            "median; how far to look, common practice"
        );
    }
}
