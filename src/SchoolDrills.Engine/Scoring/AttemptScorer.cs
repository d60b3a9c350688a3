using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Engine.Scoring;

/// <summary>What is known of a flight besides its recording; null where nothing is.</summary>
public sealed record ScoringOptions
{
    /// <summary>Altimeter setting, hPa.</summary>
    public double? QnhHpa { get; init; }

    /// <summary>Outside air temperature, Celsius.</summary>
    public double? OutsideAirTemperatureC { get; init; }

    /// <summary>Wind from, degrees true.</summary>
    public double? WindFromDegTrue { get; init; }

    /// <summary>Wind speed, knots.</summary>
    public double? WindKt { get; init; }

    /// <summary>Entry heading, degrees magnetic; estimated from the recording when null.</summary>
    public double? HeadingMagDeg { get; init; }

    /// <summary>Entry altitude, feet indicated; estimated from the recording when null.</summary>
    public double? AltitudeFt { get; init; }

    /// <summary>Airspeed to hold, knots indicated; the template's when null.</summary>
    public double? AirspeedKt { get; init; }

    /// <summary>Left and right exchanged; as the template's entry says when null.</summary>
    public bool? Mirrored { get; init; }

    /// <summary>Turns at half rate; as the template's entry says when null.</summary>
    public bool? HalfRate { get; init; }

    /// <summary>What an instructor set by hand; null where nothing was.</summary>
    public HandCorrections? Corrections { get; init; }

    /// <summary>What was noted on board; null where nobody noted, which is not the same as nothing having happened.</summary>
    public IReadOnlyList<FlightEvent>? Events { get; init; }
}

/// <summary>Stages of scoring, told while it runs.</summary>
public enum ScoringStage
{
    /// <summary>Ordering, removing jumps, marking gaps.</summary>
    Cleaning,

    /// <summary>Smoothing, wind, heading, airspeed.</summary>
    Reconstructing,

    /// <summary>Finding the drill and its segments.</summary>
    Aligning,

    /// <summary>Measuring and judging.</summary>
    Judging,
}

/// <summary>A report with the columns for its plots.</summary>
/// <param name="Report">The report.</param>
/// <param name="Columns">Reconstructed flight for plots.</param>
public sealed record ScoredAttempt(ScoreReport Report, TrackColumns Columns);

/// <summary>The engine's front door: a recording and a drill in, a report out. Pure and deterministic.</summary>
public static class AttemptScorer
{
    /// <summary>Version of the engine; part of every report.</summary>
    public const string EngineVersion = "1.2.0";

    /// <summary>Flight before and after the drill that helps to solve the wind, seconds.</summary>
    private const double WindMarginS = 10;

    /// <summary>Scores one recording against one drill.</summary>
    /// <param name="track">The recording as read.</param>
    /// <param name="template">The drill.</param>
    /// <param name="standard">Tolerances to judge by.</param>
    /// <param name="options">What else is known.</param>
    /// <param name="stage">Told at the start of each stage.</param>
    /// <param name="cancellation">Stops between stages.</param>
    /// <returns>The report; one with <c>Found</c> false where nothing like the drill is in the recording.</returns>
    /// <exception cref="CorrectionRefusedException">What was set by hand cannot be true of this recording.</exception>
    public static ScoredAttempt Score(
        Track track,
        DrillTemplate template,
        ToleranceStandard standard,
        ScoringOptions options,
        Action<ScoringStage>? stage = null,
        CancellationToken cancellation = default
    ) => ScoreWithState(track, template, standard, options, stage, cancellation).Scored;

    /// <summary>The same, with the measured drill behind the report for those who look closer; null where it was not found.</summary>
    /// <param name="track">The recording as read.</param>
    /// <param name="template">The drill.</param>
    /// <param name="standard">Tolerances to judge by.</param>
    /// <param name="options">What else is known.</param>
    /// <param name="stage">Told at the start of each stage.</param>
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
        Begin(ScoringStage.Cleaning);
        if (TrackCleaner.Clean(track) is not { } clean)
            return (ReportWriter.Unusable(track, template, standard), null);

        Begin(ScoringStage.Reconstructing);
        var known = new KnownConditions(
            options.QnhHpa,
            options.OutsideAirTemperatureC,
            options is { WindFromDegTrue: { } from, WindKt: { } kt } ? WindField.Given(from, kt) : null
        );
        var state = Reconstructor.Reconstruct(clean, known);

        Begin(ScoringStage.Aligning);
        var asked = template.Entry with
        {
            HeadingMagDeg = options.HeadingMagDeg ?? template.Entry.HeadingMagDeg,
            AltitudeFt = options.AltitudeFt ?? template.Entry.AltitudeFt,
            AirspeedKt = options.AirspeedKt ?? template.Entry.AirspeedKt,
            Mirrored = options.Mirrored ?? template.Entry.Mirrored,
            HalfRate = options.HalfRate ?? template.Entry.HalfRate,
        };
        var (runs, best, nearest) = RunFinder.Find(state, DrillTimeline.Resolve(template, asked), Exchanged(template, asked));
        if (runs.Count == 0)
            return (ReportWriter.NotFound(state, template, standard, nearest?.Alignment), null);

        if (options.Corrections is { } corrections)
            HandBoundaries.Check(corrections, Utc(clean.TimeS[0]), Utc(clean.TimeS[^1]), runs.Count);
        var chosen = options.Corrections?.Run ?? best;
        var (alignment, timeline, mirrored) = runs[chosen];
        state = Reconstructor.Refine(state, known, alignment.StartS - WindMarginS, alignment.EndS + WindMarginS, Aims(timeline, alignment));
        alignment = BoundaryRefiner.Refine(state, timeline, alignment);
        if (options.Corrections?.Boundaries is { Count: > 0 } boundaries)
            alignment = ByHand(alignment, timeline, options.Corrections, boundaries, clean);

        Begin(ScoringStage.Judging);
        var leftOut = LeftOutTime.Of(options.Corrections, track.EpochUtc);
        var entry = EntryEstimator.Estimate(state, timeline, alignment, options, leftOut);
        var flown = asked with
        {
            HeadingMagDeg = entry.HeadingMagDeg,
            AltitudeFt = entry.AltitudeFt,
            Mirrored = asked.Mirrored != mirrored,
        };
        var drill = new FlownDrill(state, DrillTimeline.Resolve(template, flown), alignment, entry, standard, leftOut)
        {
            Exchanged = mirrored,
        };
        var found = runs.Select(
                (run, i) =>
                    new FoundRun(
                        i,
                        Utc((i == chosen ? alignment : run.Alignment).StartS),
                        Utc((i == chosen ? alignment : run.Alignment).EndS),
                        Math.Round(run.Alignment.Confidence, 3),
                        run.Mirrored,
                        Scored: i == chosen
                    )
            )
            .ToList();
        return (ReportWriter.Scored(drill, template, flown, found, options), drill);

        DateTimeOffset Utc(double timeS) => track.EpochUtc.AddSeconds(timeS);

        void Begin(ScoringStage next)
        {
            cancellation.ThrowIfCancellationRequested();
            stage?.Invoke(next);
        }
    }

    /// <summary>The drill with left and right exchanged; null where it has no turns, so that it would be the same.</summary>
    private static DrillTimeline? Exchanged(DrillTemplate template, DrillEntry asked)
    {
        var timeline = DrillTimeline.Resolve(template, asked with { Mirrored = !asked.Mirrored });
        return timeline.Segments.Any(s => s.TurnDeg != 0) ? timeline : null;
    }

    /// <summary>The alignment as an instructor set it; the clock starts where he put the drill's start.</summary>
    private static Alignment ByHand(
        Alignment alignment,
        DrillTimeline timeline,
        HandCorrections corrections,
        IReadOnlyList<HandBoundary> boundaries,
        CleanTrack clean
    )
    {
        var epochUtc = clean.Source.EpochUtc;
        alignment = HandBoundaries.Apply(
            alignment,
            [.. timeline.Segments.Select(s => s.Name)],
            corrections,
            epochUtc,
            epochUtc.AddSeconds(clean.TimeS[0]),
            epochUtc.AddSeconds(clean.TimeS[^1])
        );
        var startSet = boundaries.Any(b => b is { Index: 0, StartUtc: not null });
        return alignment with { ClockStartS = startSet ? alignment.Matches[0].StartS : DrillClock.StartS(timeline.Segments, alignment) };
    }

    private static PilotAims Aims(DrillTimeline timeline, Alignment alignment) =>
        new(
            timeS =>
                alignment.Flown.LastOrDefault(m => m.StartS <= timeS) is { DurationS: > 0 } match
                    ? timeline.Segments[match.Index].AirspeedKtAt(timeS - match.StartS)
                    : timeline.Segments[0].StartAirspeedKt,
            [
                .. alignment
                    .Flown.Where(m => timeline.Segments[m.Index].TurnRateDegPerS == 0)
                    .Select(m => new AimedStraight(m.StartS, m.EndS, timeline.Segments[m.Index].StartHeadingMagDeg)),
            ]
        );
}
