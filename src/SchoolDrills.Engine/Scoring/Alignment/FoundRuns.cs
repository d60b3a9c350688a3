using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>One run of the drill as the aligner found it.</summary>
/// <param name="Alignment">Where its segments were flown.</param>
/// <param name="Timeline">The drill to the side on which it was flown.</param>
/// <param name="Mirrored">That is not the planned side.</param>
internal sealed record Run(Alignment Alignment, DrillTimeline Timeline, bool Mirrored)
{
    /// <summary>Other readings of the same stretch that are not out of the question.</summary>
    public IReadOnlyList<Run> Others { get; init; } = [];

    /// <summary>How likely this reading is beside the others, 0 to 1.</summary>
    public double Share { get; init; } = 1;
}

/// <summary>Every run of a drill in a flight.</summary>
/// <param name="All">In time; none where the drill was not found.</param>
/// <param name="Best">Place of the best one among them.</param>
/// <param name="Nearest">The best one; where there is none, the alignment that came nearest.</param>
internal sealed record FoundRuns(IReadOnlyList<Run> All, int Best, Run? Nearest)
{
    /// <summary>What can be scored: every run in time, then the other readings of each.</summary>
    public IReadOnlyList<Run> Choices { get; } = [.. All, .. All.SelectMany(r => r.Others)];

    /// <summary>Of which run a choice is another reading; null for a run.</summary>
    public int? ReadingOf(int choice) =>
        choice < All.Count ? null : Enumerable.Range(0, All.Count).First(i => All[i].Others.Contains(Choices[choice]));
}
