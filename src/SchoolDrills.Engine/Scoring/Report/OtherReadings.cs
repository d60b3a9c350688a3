namespace SchoolDrills.Engine.Scoring;

/// <summary>In what other readings of a stretch differ from the one that was scored.</summary>
internal static class OtherReadings
{
    /// <summary>Starts nearer than this are the same, seconds.</summary>
    private const double SameStartS = 15;

    /// <summary>One sentence for each other reading; none where the scored one stands alone.</summary>
    /// <param name="runs">Every run and its other readings.</param>
    /// <param name="scored">Place of the scored one among the choices.</param>
    public static IReadOnlyList<string> Sentences(FoundRuns runs, int scored)
    {
        var run = runs.ReadingOf(scored) ?? scored;
        return
        [
            .. Enumerable
                .Range(0, runs.Choices.Count)
                .Where(i => i != scored && (i == run || runs.ReadingOf(i) == run))
                .Select(i =>
                    $"This flight can also be read as the drill {Difference(runs.Choices[i], runs.Choices[scored])}: "
                    + $"{ParameterFormat.Percent(runs.Choices[i].Share)} likely, "
                    + $"against {ParameterFormat.Percent(runs.Choices[scored].Share)} as scored."
                ),
        ];
    }

    private static string Difference(Run other, Run scored)
    {
        var words = new List<string>();
        if (other.Mirrored != scored.Mirrored)
            words.Add("flown to the other hand");
        var laterS = other.Alignment.StartS - scored.Alignment.StartS;
        if (Math.Abs(laterS) >= SameStartS)
            words.Add($"begun {TimeSpan.FromSeconds(Math.Abs(laterS)):m\\:ss} {(laterS > 0 ? "later" : "earlier")}");
        if (other.Alignment.Aborted)
            words.Add($"given up after {other.Timeline.Segments[other.Alignment.Flown.Last().Index].Name}");
        else if (scored.Alignment.Aborted)
            words.Add("flown to its end");
        return words.Count == 0 ? "with other segments left out" : string.Join(" and ", words);
    }
}
