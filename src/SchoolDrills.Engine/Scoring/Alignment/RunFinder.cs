using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;

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
        var best = BestIn(flight.Grid);
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
            var run = BestIn(new AlignmentGrid(state, fromS, toS));
            if (run is null || run.Alignment.Confidence < AlignmentModel.FoundConfidence)
                return;
            runs.Add(run);
            Search(fromS, run.Alignment.StartS);
            Search(run.Alignment.EndS, toS);
        }

        Run? BestIn(AlignmentGrid grid)
        {
            List<Run> readings =
            [
                .. ReadingSearch.All(grid, planned, 1 - ReadingModel.OtherSide).Select(a => new Run(a, planned, false)),
                .. mirrored is null
                    ? []
                    : ReadingSearch.All(grid, mirrored, ReadingModel.OtherSide).Select(a => new Run(a, mirrored, true)),
            ];
            return Weighed(readings) is { } best ? Placed(best) with { Others = [.. best.Others.Select(Placed)] } : null;
        }

        Run Placed(Run run) =>
            run with
            {
                Alignment = ShortTurns.End(flight.Grid, run.Timeline, Aligned(state, run.Timeline, run.Alignment)),
            };
    }

    /// <summary>The likeliest reading with those of the same stretch that may be true instead; null where there is none.</summary>
    private static Run? Weighed(List<Run> readings)
    {
        if (readings.MaxBy(r => r.Alignment.LogOdds) is not { } best)
            return null;
        List<Run> rivals = [];
        foreach (var run in readings.OrderByDescending(r => r.Alignment.LogOdds))
        {
            var sameStretch = run.Alignment.StartS < best.Alignment.EndS && best.Alignment.StartS < run.Alignment.EndS;
            if (sameStretch && !rivals.Exists(r => r.Mirrored == run.Mirrored && r.Alignment.Resembles(run.Alignment)))
                rivals.Add(run);
        }

        var sum = rivals.Sum(Odds);
        rivals = [.. rivals.Select(r => r with { Share = Odds(r) / sum }).Where(r => r.Share >= ReadingModel.WorthTelling)];
        // Giving up is the rare case: while the drill may as well have been flown to its end, that is what is scored.
        var flownOn = rivals.FirstOrDefault(r => !r.Alignment.Aborted);
        if (flownOn is null || !rivals[0].Alignment.Aborted)
            return rivals[0] with { Others = rivals[1..] };
        // That the drill is there at all is as sure as in the likeliest reading of it.
        var confidence = Math.Max(rivals[0].Alignment.Confidence, flownOn.Alignment.Confidence);
        return flownOn with
        {
            Alignment = flownOn.Alignment with { Confidence = confidence },
            Others = [.. rivals.Where(r => r != flownOn)],
        };

        double Odds(Run run) => Math.Exp(run.Alignment.LogOdds - best.Alignment.LogOdds);
    }

    /// <summary>
    /// The reading with its boundaries from <see cref="SegmentAligner"/>, which knows less of how drills are flown and so hides no error;
    /// where it finds other segments in the same stretch, the reading stands.
    /// </summary>
    private static Alignment Aligned(FlightState state, DrillTimeline timeline, Alignment reading)
    {
        if (reading.Confidence < AlignmentModel.FoundConfidence)
            return reading;
        var (fromS, toS) = (reading.StartS - AlignmentModel.AroundReadingS, reading.EndS + AlignmentModel.AroundReadingS);
        var stretch = new AlignmentGrid(state, Math.Max(fromS, state.TimeS[0]), Math.Min(toS, state.TimeS[^1]));
        var aligned = SegmentAligner.Align(stretch, timeline);
        return aligned is not null && aligned.Matches.Zip(reading.Matches).All(pair => Agree(pair.First, pair.Second))
            ? aligned with
            {
                Matches = [.. aligned.Matches.Zip(reading.Matches, (m, read) => m with { FirstStartS = read.FirstStartS })],
                LogOdds = reading.LogOdds,
                Confidence = reading.Confidence,
            }
            : reading;
    }

    private static bool Agree(SegmentMatch one, SegmentMatch read) =>
        one.Status == read.Status
        && !(Math.Min(one.EndS, read.EndS) < Math.Max(one.StartS, read.StartS))
        // The aligner knows no second rendition and may take both for one long segment.
        && !(read.FirstStartS is not null && one.StartS < read.StartS - HandlingModel.HesitationS);
}
