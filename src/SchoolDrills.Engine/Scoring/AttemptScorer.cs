using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Engine.Scoring;

/// <summary>The engine's front door: a recording and a drill in, a report out. Pure and deterministic.</summary>
public static class AttemptScorer
{
    /// <summary>Version of the engine; part of every report.</summary>
    public const string EngineVersion = "1.6.0";

    /// <summary>
    /// Flight before and after the drill that is used to solve the wind, seconds. Basis: fitted on the recorded truth flights.
    /// </summary>
    private const double WindMarginS = 10;

    /// <summary>Scores one recording against one drill.</summary>
    /// <param name="track">The recording as read.</param>
    /// <param name="template">The drill.</param>
    /// <param name="standard">Tolerances to judge by.</param>
    /// <param name="options">What else is known.</param>
    /// <param name="stage">Called at the start of each stage.</param>
    /// <param name="cancellation">Stops between stages.</param>
    /// <returns>The report; one with <c>Found</c> false where nothing like the drill is in the recording.</returns>
    /// <exception cref="CorrectionRefusedException">A manual correction cannot be true of this recording.</exception>
    public static ScoredAttempt Score(
        Track track,
        DrillTemplate template,
        ToleranceStandard standard,
        ScoringOptions options,
        Action<ScoringStage>? stage = null,
        CancellationToken cancellation = default
    ) => ScoreWithState(track, template, standard, options, stage, cancellation).Scored;

    /// <summary>The same, with the measured drill behind the report; null where it was not found.</summary>
    /// <param name="track">The recording as read.</param>
    /// <param name="template">The drill.</param>
    /// <param name="standard">Tolerances to judge by.</param>
    /// <param name="options">What else is known.</param>
    /// <param name="stage">Called at the start of each stage.</param>
    /// <param name="cancellation">Stops between stages.</param>
    public static (ScoredAttempt Scored, FlownDrill? Drill) ScoreWithState(
        Track track,
        DrillTemplate template,
        ToleranceStandard standard,
        ScoringOptions options,
        Action<ScoringStage>? stage = null,
        CancellationToken cancellation = default
    )
    {
        if (ReconstructedFlight.Of(track, options, Begin) is not { } flight)
            return (ReportWriter.Unusable(track, template, standard), null);
        Begin(ScoringStage.Aligning);
        return Score(flight, DrillFinder.Find(flight, template, options), standard, options, Begin);

        void Begin(ScoringStage next)
        {
            cancellation.ThrowIfCancellationRequested();
            stage?.Invoke(next);
        }
    }

    /// <summary>Scores a drill that was looked for in a flight.</summary>
    /// <param name="flight">The flight.</param>
    /// <param name="found">Where the drill was found in it.</param>
    /// <param name="standard">Tolerances to judge by.</param>
    /// <param name="options">What else is known, the same as for finding it.</param>
    /// <param name="stage">Called at the start of each stage.</param>
    /// <exception cref="CorrectionRefusedException">A manual correction cannot be true of this recording.</exception>
    public static (ScoredAttempt Scored, FlownDrill? Drill) Score(
        ReconstructedFlight flight,
        FoundDrill found,
        ToleranceStandard standard,
        ScoringOptions options,
        Action<ScoringStage>? stage = null
    )
    {
        options = options with { Events = BoardNotes.InOrder(options.Events) };
        var clean = flight.State.Track;
        if (!found.IsFound)
            return (ReportWriter.NotFound(flight.State, found.Template, standard, found.Confidence), null);

        var epochUtc = clean.Source.EpochUtc;
        var runs = found.Runs.Choices;
        if (options.Corrections is { } corrections)
            ManualBoundaries.Check(corrections, Utc(clean.TimeS[0]), Utc(clean.TimeS[^1]), runs.Count);
        var chosen = options.Corrections?.Run ?? found.Runs.Best;
        var (alignment, timeline, mirrored) = runs[chosen];
        var state = Reconstructor.Refine(
            flight.State,
            flight.Conditions,
            alignment.StartS - WindMarginS,
            alignment.EndS + WindMarginS,
            Aims(timeline, alignment)
        );
        var noted = BoardNotes.Pauses(options.Events, Utc(clean.TimeS[0]), Utc(clean.TimeS[^1]));
        var excluded = ExcludedTime.Of(options.Corrections, noted, epochUtc);
        var held = EntryEstimator.Estimate(state, timeline, alignment, options, excluded);
        var raisedFt = held.AltitudeFt - held.AltitudeOffsetFt - timeline.Segments[0].StartAltitudeFt;
        alignment = BoundaryRefiner.Refine(state, timeline, alignment with { FirstPauseS = excluded.FirstPauseS }, raisedFt);
        alignment = alignment.StoppedAt(BoardNotes.StoppedS(options.Events, alignment, epochUtc));
        if (options.Corrections?.Boundaries is { Count: > 0 })
        {
            alignment = Corrected(alignment, timeline, options.Corrections, clean);
            // Boundaries moved by hand bring nothing back that came after the drill was stopped.
            alignment = alignment.StoppedAt(BoardNotes.StoppedS(options.Events, alignment, epochUtc));
        }

        stage?.Invoke(ScoringStage.Judging);
        var entry = EntryEstimator.Estimate(state, timeline, alignment, options, excluded);
        var flown = found.Planned with
        {
            HeadingMagDeg = entry.HeadingMagDeg,
            AltitudeFt = entry.AltitudeFt,
            Mirrored = found.Planned.Mirrored != mirrored,
        };
        var resolved = DrillTimeline.Resolve(found.Template, flown);
        var drill = new FlownDrill(state, resolved, alignment, entry, standard, excluded) { Mirrored = mirrored };
        var reported = Reported(found.Runs, chosen, alignment, Utc);
        var paused = BoardNotes.Within(noted, Utc(alignment.StartS), Utc(alignment.EndS));
        var scored = ReportWriter.Scored(drill, found.Template, flown, reported, paused, options);
        // How a drill ended that was stopped is known: it cannot be read as one flown on or given up.
        var readings = alignment.StoppedS is null ? Readings.Of(found.Runs, reported, chosen) : [];
        return (scored with { Report = scored.Report with { Readings = readings } }, drill);

        DateTimeOffset Utc(double timeS) => epochUtc.AddSeconds(timeS);
    }

    /// <summary>The runs and their other readings as the report lists them; the scored one with its refined ends.</summary>
    private static List<DrillRun> Reported(FoundRuns runs, int chosen, Alignment refined, Func<double, DateTimeOffset> utc) =>
        [
            .. runs.Choices.Select(
                (run, i) =>
                {
                    var ends = i == chosen ? refined : run.Alignment;
                    var confidence = Math.Round(run.Alignment.Confidence, 3);
                    return new DrillRun(i, utc(ends.StartS), utc(ends.EndS), confidence, run.Mirrored, Scored: i == chosen)
                    {
                        ReadingOf = runs.ReadingOf(i),
                        Share = Math.Round(run.Share, 2),
                        GivenUp = i == chosen ? refined.Aborted : run.Alignment.Aborted,
                    };
                }
            ),
        ];

    /// <summary>The alignment as an instructor corrected it; the clock starts where the drill's start was put.</summary>
    private static Alignment Corrected(Alignment alignment, DrillTimeline timeline, ManualCorrections corrections, CleanTrack clean)
    {
        var epochUtc = clean.Source.EpochUtc;
        alignment = ManualBoundaries.Apply(
            alignment,
            [.. timeline.Segments.Select(s => s.Name)],
            corrections,
            epochUtc,
            epochUtc.AddSeconds(clean.TimeS[0]),
            epochUtc.AddSeconds(clean.TimeS[^1])
        );
        var startSet = corrections.Boundaries!.Any(b => b is { Index: 0, StartUtc: not null });
        return alignment with { ClockStartS = startSet ? alignment.Matches[0].StartS : DrillClock.StartS(timeline.Segments, alignment) };
    }

    private static PlannedFlight Aims(DrillTimeline timeline, Alignment alignment) =>
        new(
            timeS =>
                alignment.Flown.LastOrDefault(m => m.StartS <= timeS) is { DurationS: > 0 } match
                    ? timeline.Segments[match.Index].AirspeedKtAt(timeS - match.StartS)
                    : timeline.Segments[0].StartAirspeedKt,
            [
                .. alignment
                    .Flown.Where(m => timeline.Segments[m.Index].TurnRateDegPerS == 0)
                    .Select(m => new PlannedStraight(m.StartS, m.EndS, timeline.Segments[m.Index].StartHeadingMagDeg)),
            ]
        );
}
