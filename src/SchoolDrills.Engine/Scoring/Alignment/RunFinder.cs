using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Finds every run of a drill in a flight: the best, then others in what lies before and after it.</summary>
internal static class RunFinder
{
    /// <summary>Every run of the drill.</summary>
    /// <param name="flight">The flight.</param>
    /// <param name="planned">The drill as planned.</param>
    /// <param name="mirrored">The same mirrored; null where it has no turns.</param>
    public static FoundRuns Find(ReconstructedFlight flight, DrillTimeline planned, DrillTimeline? mirrored)
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

        // Only the best run gets the relaxed alignment: what lies beside it is mostly other flight, searched twice for nothing.
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
                mirrored is null
                || mirrored.Segments.Count(s => s.TurnDeg != 0) < AlignmentModel.LeastTurnsForMirrored
                || one?.Alignment.Confidence >= AlignmentModel.SureConfidence
            )
            {
                return one;
            }

            var other = SegmentAligner.Align(grid, mirrored) is { } opposite ? new Run(opposite, mirrored, true) : null;
            return other?.Alignment.Confidence > (one?.Alignment.Confidence ?? 0) + AlignmentModel.MirroredSurerBy ? other : one;
        }
    }

    /// <summary>A drill that looks aborted to the strict alignment may have gone on past a segment flown far too slowly.</summary>
    private static bool IsBetter(Alignment relaxed, Alignment? strict) =>
        relaxed.Confidence > (strict?.Confidence ?? 0) + AlignmentModel.RelaxedSurerBy
        || (
            strict is { Aborted: true }
            && relaxed.Confidence >= AlignmentModel.SureConfidence
            && relaxed.Flown.Count() > strict.Flown.Count()
        );
}
