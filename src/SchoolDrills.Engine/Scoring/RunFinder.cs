using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;

namespace SchoolDrills.Engine.Scoring;

/// <summary>One flight of the drill as the aligner found it.</summary>
/// <param name="Alignment">Where its segments were flown.</param>
/// <param name="Timeline">The drill in the hand in which it was flown.</param>
/// <param name="Mirrored">That hand is not the one asked.</param>
internal sealed record Run(Alignment Alignment, DrillTimeline Timeline, bool Mirrored);

/// <summary>Finds every flight of a drill in a recording: the best, then others in what lies before and after it.</summary>
internal static class RunFinder
{
    /// <summary>Confidence from which the drill counts as found: true flights reach 0.77 and more, other training flight 0.56 by chance.</summary>
    public const double FoundConfidence = 0.65;

    /// <summary>Confidence from which neither the lenient alignment nor the other hand is tried, and by how much the other must be surer.</summary>
    private const double SureConfidence = 0.85,
        SurerBy = 0.1;

    /// <summary>By how much the lenient alignment must be surer than the strict one.</summary>
    private const double LenientSurerBy = 0.05;

    /// <summary>A drill of fewer turns is flown to either hand by chance: the other hand is not looked for.</summary>
    private const int LeastTurns = 3;

    /// <summary>A stretch shorter than this share of the drill is not searched.</summary>
    private const double ShortestShare = 0.5;

    /// <summary>Every flight of the drill in time, the best one's place among them, and the nearest to one where there is none.</summary>
    /// <param name="state">Reconstructed flight.</param>
    /// <param name="asked">The drill in the hand asked.</param>
    /// <param name="mirrored">The same with left and right exchanged; null where that is the same.</param>
    public static (IReadOnlyList<Run> Runs, int Best, Run? Nearest) Find(FlightState state, DrillTimeline asked, DrillTimeline? mirrored)
    {
        var best = BestIn(state.TimeS[0], state.TimeS[^1], leniently: true);
        if (best is null || best.Alignment.Confidence < FoundConfidence)
            return ([], -1, best);
        var runs = new List<Run> { best };
        Search(state.TimeS[0], best.Alignment.StartS);
        Search(best.Alignment.EndS, state.TimeS[^1]);
        runs.Sort((a, b) => a.Alignment.StartS.CompareTo(b.Alignment.StartS));
        return (runs, runs.IndexOf(best), best);

        void Search(double fromS, double toS)
        {
            if (
                toS - fromS < ShortestShare * asked.DurationS
                || BestIn(fromS, toS, leniently: false) is not { } run
                || run.Alignment.Confidence < FoundConfidence
            )
                return;
            runs.Add(run);
            Search(fromS, run.Alignment.StartS);
            Search(run.Alignment.EndS, toS);
        }

        // A drill given up for the strict alignment may have gone on past a segment flown far too slowly.
        static bool IsBetter(Alignment lenient, Alignment? strict) =>
            lenient.Confidence > (strict?.Confidence ?? 0) + LenientSurerBy
            || (strict is { Aborted: true } && lenient.Confidence >= SureConfidence && lenient.Flown.Count() > strict.Flown.Count());

        // Leniently for the best one alone: other flight beside it is mostly no drill, and would be searched twice for nothing.
        Run? BestIn(double fromS, double toS, bool leniently)
        {
            var grid = new AlignmentGrid(state, fromS, toS);
            var one = SegmentAligner.Align(grid, asked) is { } found ? new Run(found, asked, false) : null;
            if (
                leniently
                && (one is null || one.Alignment.Aborted || one.Alignment.Confidence < SureConfidence)
                && SegmentAligner.Align(grid, asked, lenient: true) is { } loose
                && IsBetter(loose, one?.Alignment)
            )
            {
                one = new Run(loose, asked, false);
            }

            if (
                mirrored is null
                || mirrored.Segments.Count(s => s.TurnDeg != 0) < LeastTurns
                || one?.Alignment.Confidence >= SureConfidence
            )
                return one;
            var other = SegmentAligner.Align(grid, mirrored) is { } exchanged ? new Run(exchanged, mirrored, true) : null;
            return other?.Alignment.Confidence > (one?.Alignment.Confidence ?? 0) + SurerBy ? other : one;
        }
    }
}
