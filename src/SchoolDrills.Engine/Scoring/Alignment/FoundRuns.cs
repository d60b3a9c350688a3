using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>One run of the drill as the aligner found it.</summary>
/// <param name="Alignment">Where its segments were flown.</param>
/// <param name="Timeline">The drill to the side on which it was flown.</param>
/// <param name="Mirrored">That is not the planned side.</param>
internal sealed record Run(Alignment Alignment, DrillTimeline Timeline, bool Mirrored);

/// <summary>Every run of a drill in a flight.</summary>
/// <param name="All">In time; none where the drill was not found.</param>
/// <param name="Best">Place of the best one among them.</param>
/// <param name="Nearest">The best one; where there is none, the alignment that came nearest.</param>
internal sealed record FoundRuns(IReadOnlyList<Run> All, int Best, Run? Nearest);
