using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>One run of the drill as the aligner found it.</summary>
/// <param name="Alignment">Where its segments were flown.</param>
/// <param name="Timeline">The drill in the hand in which it was flown.</param>
/// <param name="OtherHand">That is not the planned hand.</param>
internal sealed record Run(Alignment Alignment, DrillTimeline Timeline, bool OtherHand);

/// <summary>Every run of a drill in a flight.</summary>
/// <param name="All">In time; none where the drill was not found.</param>
/// <param name="Best">Place of the best one among them.</param>
/// <param name="Nearest">The best one, or what came nearest to one where there is none.</param>
internal sealed record FoundRuns(IReadOnlyList<Run> All, int Best, Run? Nearest);

/// <summary>Finds every run of a drill in a flight: the best, then others in what lies before and after it.</summary>
internal static class RunFinder
{
    /// <summary>Every run of the drill.</summary>
    /// <param name="flight">The flight.</param>
    /// <param name="planned">The drill in the planned hand.</param>
    /// <param name="otherHand">The same with left and right exchanged; null where that is the same.</param>
    public static FoundRuns Find(ReconstructedFlight flight, DrillTimeline planned, DrillTimeline? otherHand)
    {
        var state = flight.State;
        var best = BestIn(flight.Grid, relaxed: true);
        if (best is null || best.Alignment.Confidence < AlignmentModel.FoundConfidence)
            return new FoundRuns([], -1, best);
        var runs = new List<Run> { best };
        Search(state.TimeS[0], best.Alignment.StartS);
        Search(best.Alignment.EndS, state.TimeS[^1]);
        runs.Sort((a, b) => a.Alignment.StartS.CompareTo(b.Alignment.StartS));
        return new FoundRuns(runs, runs.IndexOf(best), best);

        void Search(double fromS, double toS)
        {
            if (toS - fromS < AlignmentModel.ShortestSearchShare * planned.DurationS)
                return;
            var run = BestIn(new AlignmentGrid(state, fromS, toS), relaxed: false);
            if (run is null || run.Alignment.Confidence < AlignmentModel.FoundConfidence)
                return;
            runs.Add(run);
            Search(fromS, run.Alignment.StartS);
            Search(run.Alignment.EndS, toS);
        }

        // Relaxed for the best one alone: other flight beside it is mostly no drill, and would be searched twice for nothing.
        Run? BestIn(AlignmentGrid grid, bool relaxed)
        {
            var one = SegmentAligner.Align(grid, planned) is { } found ? new Run(found, planned, false) : null;
            if (
                relaxed
                && (one is null || one.Alignment.Aborted || one.Alignment.Confidence < AlignmentModel.SureConfidence)
                && SegmentAligner.Align(grid, planned, relaxed: true) is { } loose
                && IsBetter(loose, one?.Alignment)
            )
            {
                one = new Run(loose, planned, false);
            }

            if (
                otherHand is null
                || otherHand.Segments.Count(s => s.TurnDeg != 0) < AlignmentModel.LeastTurnsForOtherHand
                || one?.Alignment.Confidence >= AlignmentModel.SureConfidence
            )
                return one;
            var other = SegmentAligner.Align(grid, otherHand) is { } exchanged ? new Run(exchanged, otherHand, true) : null;
            return other?.Alignment.Confidence > (one?.Alignment.Confidence ?? 0) + AlignmentModel.OtherHandSurerBy ? other : one;
        }
    }

    /// <summary>A drill that the strict alignment has given up may have gone on past a segment flown far too slowly.</summary>
    private static bool IsBetter(Alignment relaxed, Alignment? strict) =>
        relaxed.Confidence > (strict?.Confidence ?? 0) + AlignmentModel.RelaxedSurerBy
        || (
            strict is { Aborted: true }
            && relaxed.Confidence >= AlignmentModel.SureConfidence
            && relaxed.Flown.Count() > strict.Flown.Count()
        );
}
