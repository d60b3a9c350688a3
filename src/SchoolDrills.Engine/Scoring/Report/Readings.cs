namespace SchoolDrills.Engine.Scoring;

/// <summary>One way to read the stretch of flight that was scored.</summary>
/// <param name="Weight">How likely it is beside the others, 0 to 1.</param>
/// <param name="Text">One sentence: what the flight is as which drill, so read.</param>
/// <param name="StartUtc">Start of the drill, so read.</param>
/// <param name="EndUtc">End of the drill, so read.</param>
/// <param name="Run">Its place among the report's runs.</param>
public sealed record Reading(double Weight, string Text, DateTimeOffset StartUtc, DateTimeOffset EndUtc, int Run);

/// <summary>Every way to read the scored stretch, and in what they differ.</summary>
internal static class Readings
{
    /// <summary>Starts nearer than this are the same, seconds.</summary>
    private const double SameStartS = 15;

    /// <summary>The readings of the stretch that was scored, likeliest first; one alone where nothing else is likely.</summary>
    /// <param name="runs">Every run and its other readings.</param>
    /// <param name="reported">The same as the report lists them.</param>
    /// <param name="scored">Place of the scored one among the choices.</param>
    public static IReadOnlyList<Reading> Of(FoundRuns runs, IReadOnlyList<DrillRun> reported, int scored)
    {
        var run = runs.ReadingOf(scored) ?? scored;
        return
        [
            .. reported
                .Where(r => r.Index == run || r.ReadingOf == run)
                .Select(r => new Reading(r.Share, Text(runs.Choices[r.Index], runs.Choices[scored]), r.StartUtc, r.EndUtc, r.Index))
                .OrderByDescending(r => r.Weight),
        ];
    }

    private static string Text(Run reading, Run scored) =>
        reading == scored
            ? $"As scored: the drill {(scored.Alignment.Aborted ? GivenUp(scored) : "flown to its end")}."
            : $"This flight can also be read as the drill {Difference(reading, scored)}: "
                + $"{ParameterFormat.Percent(reading.Share)} likely, against {ParameterFormat.Percent(scored.Share)} as scored.";

    private static string GivenUp(Run run) => $"given up after {run.Timeline.Segments[run.Alignment.Flown.Last().Index].Name}";

    private static string Difference(Run other, Run scored)
    {
        var words = new List<string>();
        if (other.Mirrored != scored.Mirrored)
            words.Add("flown to the other hand");
        var laterS = other.Alignment.StartS - scored.Alignment.StartS;
        if (Math.Abs(laterS) >= SameStartS)
            words.Add($"begun {TimeSpan.FromSeconds(Math.Abs(laterS)):m\\:ss} {(laterS > 0 ? "later" : "earlier")}");
        if (other.Alignment.Aborted)
            words.Add(GivenUp(other));
        else if (scored.Alignment.Aborted)
            words.Add("flown to its end");
        return words.Count == 0 ? "with other segments left out" : string.Join(" and ", words);
    }
}
