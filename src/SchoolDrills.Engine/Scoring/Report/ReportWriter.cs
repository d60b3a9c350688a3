using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Writes what was found into the report and the columns that its plots need.</summary>
internal static class ReportWriter
{
    /// <summary>Report on a drill that was found.</summary>
    public static ScoredAttempt Scored(
        FlownDrill drill,
        DrillTemplate template,
        DrillEntry flown,
        IReadOnlyList<DrillRun> runs,
        IReadOnlyList<PausedTime> paused,
        ScoringOptions options
    )
    {
        var state = drill.State;
        var alignment = drill.Alignment;
        var epoch = state.Track.Source.EpochUtc;
        var segments = drill.Timeline.Segments.Select(s => SegmentWriter.Of(drill, s, epoch)).ToList();
        // What was not flown because the drill was stopped is no part of what is counted.
        var judged = segments
            .Where(s => alignment.StoppedS is null || !drill.IsUnseen(s.Index))
            .Select(s => (s.Verdict, drill.Timeline.Segments[s.Index].DurationS))
            .ToList();
        var (verdict, why) = Judge.OnDrill(judged);
        if (alignment.StoppedS is not null)
            (verdict, why) = (Verdict.NotMeasured, $"{Stopped(drill)}, so the drill as a whole is not judged; until then: {why}");
        // A mirrored drill can be debriefed, but it is not the planned one.
        if (drill.Mirrored)
        {
            (verdict, why) = (
                Verdict.NotMet,
                $"Flown with left and right exchanged, so it is not the drill that was asked; as flown: {why}"
            );
        }

        var saturation = Saturation.Of(state, drill.Segments, drill.Standard);
        var report = Shell(state.Track, template, drill.Standard, state) with
        {
            Found = true,
            Confidence = Math.Round(alignment.Confidence, 3),
            StartUtc = epoch.AddSeconds(alignment.StartS),
            EndUtc = epoch.AddSeconds(alignment.EndS),
            Entry = flown,
            EntryHeadingSigmaDeg = Rounded(drill.Entry.HeadingSigmaDeg ?? double.NaN, 1),
            EntryAltitudeSigmaFt = Rounded(drill.Entry.AltitudeSigmaFt ?? double.NaN, 0),
            Segments = segments,
            Findings = Findings.Of(drill, options.Events, runs.First(r => r.Scored).Share),
            ScanHints = ScanHints.Of(drill),
            Runs = runs,
            Paused = paused,
            StoppedUtc = alignment.StoppedS is { } stoppedS ? epoch.AddSeconds(stoppedS) : null,
            Corrections = options.Corrections is { IsEmpty: false } corrections ? corrections : null,
            Saturation = saturation,
            Workload = Workload.Of(drill, saturation, options.Events),
            Overall = new OverallReport(Rounded(WithinAll(drill), 4), verdict, why),
            NotMeasured = NotMeasured(drill),
        };
        return new ScoredAttempt(report, PlotColumns.Of(state, drill));
    }

    /// <summary>Report on a recording without the drill in it.</summary>
    public static ScoredAttempt NotFound(FlightState state, DrillTemplate template, ToleranceStandard standard, double confidence)
    {
        var report = Shell(state.Track, template, standard, state) with
        {
            Confidence = Math.Round(confidence, 3),
            NotMeasured = [$"Nothing in this recording looks like {template.Title}: check that it is the right file and the right drill."],
        };
        return new ScoredAttempt(report, PlotColumns.Of(state, null));
    }

    /// <summary>Report on a recording with too few usable samples.</summary>
    public static ScoredAttempt Unusable(Track track, DrillTemplate template, ToleranceStandard standard)
    {
        var times = track.TimeS.Where(double.IsFinite).DefaultIfEmpty(0).ToArray();
        var report = new ScoreReport
        {
            EngineVersion = AttemptScorer.EngineVersion,
            Drill = new DrillReference(template.Slug, template.Version),
            StandardSlug = standard.Slug,
            Recording = new RecordingSummary
            {
                Format = track.Format,
                Samples = 0,
                Dropped = track.DroppedRecords + track.Count,
                Gaps = 0,
                StartUtc = track.EpochUtc.AddSeconds(times.Min()),
                EndUtc = track.EpochUtc.AddSeconds(times.Max()),
                MedianIntervalS = 0,
                Columns = track.Columns,
            },
            Found = false,
            Confidence = 0,
            Sources = new SourcesReport(HeadingSource.GroundTrack, AltitudeSource.Gps, AirspeedSource.None),
            Overall = new OverallReport(null, Verdict.NotMeasured, "The recording has too few usable positions."),
            NotMeasured = ["The recording has fewer than ten usable positions with a time: record at least one every five seconds."],
            Warnings = track.Warnings,
        };
        return new ScoredAttempt(report, PlotColumns.Empty(track.EpochUtc));
    }

    private static ScoreReport Shell(CleanTrack track, DrillTemplate template, ToleranceStandard standard, FlightState state) =>
        new()
        {
            EngineVersion = AttemptScorer.EngineVersion,
            Drill = new DrillReference(template.Slug, template.Version),
            StandardSlug = standard.Slug,
            Recording = new RecordingSummary
            {
                Format = track.Source.Format,
                Samples = track.Count,
                Dropped = track.Dropped,
                Gaps = track.GapsAfter.Count,
                StartUtc = track.Source.EpochUtc.AddSeconds(track.TimeS[0]),
                EndUtc = track.Source.EpochUtc.AddSeconds(track.TimeS[^1]),
                MedianIntervalS = Math.Round(track.MedianIntervalS, 3),
                Columns = track.Source.Columns,
            },
            Found = false,
            Confidence = 0,
            Wind = Wind(state),
            DeclinationDeg = Rounded(state.DeclinationDeg, 2),
            Sources = new SourcesReport(state.HeadingSource, state.AltitudeSource, state.AirspeedSource),
            Overall = new OverallReport(null, Verdict.NotMeasured, "The drill was not found in this recording."),
            Warnings = track.Source.Warnings,
        };

    private static WindReport Wind(FlightState state)
    {
        if (state.Wind.Source == WindSource.None)
            return new WindReport(null, null, null, WindSource.None);
        var altitudeFt = state.Wind.ReferenceAltitudeFt;
        return new WindReport(
            Math.Round(state.Wind.FromDegTrue(altitudeFt)),
            Math.Round(state.Wind.SpeedKt(altitudeFt), 1),
            Math.Round(state.Wind.SigmaKt, 1),
            state.Wind.Source
        );
    }

    /// <summary>
    /// Share of the flown time with altitude, heading on straights and airspeed all within tolerance where they were measured.
    /// </summary>
    private static double WithinAll(FlownDrill drill)
    {
        double measuredS = 0,
            withinS = 0;
        var timeS = drill.State.TimeS;
        foreach (var segment in drill.Segments.OfType<FlownSegment>())
        {
            var judged = drill
                .Deviations[segment.Segment.Index]
                .Where(d => JudgementRules.Decides(d.Parameter) && d.Sigma <= JudgementRules.CoarsestShare * d.Within)
                .ToList();
            if (judged.Count == 0)
                continue;
            for (var i = segment.First; i < segment.End && i + 1 < timeS.Length; i++)
            {
                if (!segment.Counts(i) || judged.Exists(d => segment.HasLostTarget(d.Parameter, i)))
                    continue;
                var dt = Math.Min(timeS[i + 1] - timeS[i], drill.State.Track.GapS);
                measuredS += dt;
                if (judged.All(d => !(Math.Abs(segment.Deviation(d.Parameter, i)) > d.Within)))
                    withinS += dt;
            }
        }

        return withinS / measuredS;
    }

    private static List<string> NotMeasured(FlownDrill drill)
    {
        var (state, alignment) = (drill.State, drill.Alignment);
        var reasons = new List<string>();
        if (state.AirspeedSource == AirspeedSource.None)
            reasons.Add("airspeed: the recording has no air data and its turns do not show the wind; give the wind of the day.");
        if (state.HeadingSource == HeadingSource.GroundTrack)
            reasons.Add("heading: only the direction over the ground is known; give the wind of the day, or record heading.");
        if (state.AltitudeSource != AltitudeSource.Indicated)
        {
            reasons.Add(
                "altitude against the altimeter: the recording has no altimeter reading, so altitude is "
                    + "measured from the level that was held, not from the level assigned."
            );
        }

        if (!double.IsFinite(state.DeclinationDeg))
            reasons.Add("magnetic heading: the magnetic model used here ends before or begins after the date of the recording.");
        if (alignment.CutBefore)
        {
            reasons.Add(
                $"what came before {drill.Timeline.Segments[alignment.Flown.First().Index].Name}: the recording begins inside the drill."
            );
        }

        if (alignment.StoppedS is not null)
        {
            reasons.Add(
                $"what came after {drill.Timeline.Segments[alignment.Flown.Last().Index].Name}: "
                    + $"{char.ToLowerInvariant(Stopped(drill)[0])}{Stopped(drill)[1..]}."
            );
        }

        if (alignment.CutAfter)
        {
            reasons.Add(
                $"what came after {drill.Timeline.Segments[alignment.Flown.Last().Index].Name}: the recording ends inside the drill."
            );
        }

        return reasons;
    }

    private static string Stopped(FlownDrill drill) =>
        $"Stopped by the instructor at {TimelineCalls.Clock(Math.Max(0, drill.Alignment.StoppedS!.Value - drill.Alignment.ClockStartS))}";

    private static double? Rounded(double value, int digits) => double.IsFinite(value) ? Math.Round(value, digits) : null;
}
