using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Writes one segment of a measured drill into the report, with its verdicts.</summary>
internal static class SegmentWriter
{
    public static SegmentReport Of(FlownDrill drill, TimelineSegment segment, DateTimeOffset epoch)
    {
        var match = drill.Alignment.Matches[segment.Index];
        if (match.Status == SegmentStatus.Skipped)
        {
            return new SegmentReport
            {
                Index = segment.Index,
                Name = segment.Name,
                Kind = segment.Kind,
                NominalStartS = segment.StartS,
                NominalEndS = segment.EndS,
                TurnDeg = segment.TurnDeg,
                Status = SegmentStatus.Skipped,
                Verdict = drill.IsUnseen(segment.Index) ? Verdict.NotMeasured : Verdict.NotMet,
            };
        }

        var startErrorS = match.StartS - drill.Alignment.ClockStartS - segment.StartS;
        // After a pause the clock is the one by which the drill was resumed.
        var resumed = drill.Excluded.PausedIn(drill.Alignment.ClockStartS, match.StartS);
        var pausedS = resumed ? startErrorS - drill.ClockErrorS[segment.Index] : 0;
        var endErrorS = drill.Excluded.PausedIn(match.StartS, match.EndS)
            ? double.NaN
            : match.EndS - drill.Alignment.ClockStartS - segment.EndS - pausedS;
        var judged = drill.Deviations[segment.Index].Select(d => Deviation(drill, drill.Segments[segment.Index]!, d, epoch)).ToList();
        if (segment.Index > 0 && drill.Standard.WithinFor(Parameter.Timing, segment) is { } withinS)
            judged.Add(Timing(drill, match, withinS, epoch.AddSeconds(match.StartS)));
        var (verdict, chance) = Judge.OnSegment(judged.Select(j => (j.Report.Parameter, j.Chances)));
        return new SegmentReport
        {
            Index = segment.Index,
            Name = segment.Name,
            Kind = segment.Kind,
            NominalStartS = segment.StartS,
            NominalEndS = segment.EndS,
            TurnDeg = segment.TurnDeg,
            Status = match.Status,
            StartUtc = epoch.AddSeconds(match.StartS),
            EndUtc = epoch.AddSeconds(match.EndS),
            StartSigmaS = Math.Round(match.StartSigmaS, 1),
            EndSigmaS = Math.Round(match.EndSigmaS, 1),
            StartErrorS = Rounded(startErrorS - pausedS, 1),
            EndErrorS = Rounded(endErrorS, 1),
            Deviations = [.. judged.Select(j => j.Report)],
            Verdict = verdict,
            Probability = Rounded(chance ?? double.NaN, 2),
        };
    }

    private static (DeviationReport Report, VerdictChances? Chances) Deviation(
        FlownDrill drill,
        FlownSegment segment,
        Deviation measured,
        DateTimeOffset epoch
    )
    {
        var (verdict, why, chances) = Judge.OnDeviation(drill, segment, measured);
        var known = measured.MeasuredS > 0;
        var report = new DeviationReport
        {
            Parameter = measured.Parameter,
            Unit = ParameterFormat.Unit(measured.Parameter),
            Tolerance = measured.Within,
            MeanAbs = Rounded(measured.MeanAbs, 2),
            Rms = Rounded(measured.Rms, 2),
            MaxAbs = Rounded(Math.Abs(measured.Worst), 1),
            Worst = Rounded(measured.Worst, 1),
            WorstAtUtc = known ? epoch.AddSeconds(measured.WorstAtS) : null,
            Sigma = Rounded(measured.Sigma, 2),
            WithinShare = Rounded(measured.WithinShare, 4),
            OutsideS = known ? Math.Round(measured.OutsideS, 1) : null,
            CorrectionS = Rounded(measured.CorrectionS, 1),
            LongestOutsideS = known ? Math.Round(measured.LongestOutsideS, 1) : null,
            Verdict = verdict,
            Probability = Chance(verdict, chances),
            Why = why,
        };
        return (report, chances);
    }

    private static (DeviationReport Report, VerdictChances? Chances) Timing(
        FlownDrill drill,
        SegmentMatch match,
        double withinS,
        DateTimeOffset atUtc
    )
    {
        var errorS = drill.ClockErrorS[match.Index];
        var timing = new DeviationReport
        {
            Parameter = Parameter.Timing,
            Unit = ParameterFormat.Unit(Parameter.Timing),
            Tolerance = withinS,
            Verdict = Verdict.NotMeasured,
            Why = drill.StartUnseen(match.Index)
                ? "Begun while nothing was recorded, so when is not known well enough."
                : "Time before it was paused, left out or went into other flight, so the clock says nothing.",
        };
        if (double.IsNaN(errorS))
            return (timing, null);
        var (verdict, why, chances) = Judge.OnTiming(errorS, withinS, match.StartSigmaS);
        timing = timing with
        {
            MeanAbs = Math.Round(Math.Abs(errorS), 1),
            Rms = Math.Round(Math.Abs(errorS), 1),
            MaxAbs = Math.Round(Math.Abs(errorS), 1),
            Worst = Math.Round(errorS, 1),
            WorstAtUtc = atUtc,
            Sigma = Math.Round(match.StartSigmaS, 2),
            WithinShare = Math.Abs(errorS) <= withinS ? 1 : 0,
            Verdict = verdict,
            Probability = Chance(verdict, chances),
            Why = why,
        };
        return (timing, chances);
    }

    private static double? Chance(Verdict verdict, VerdictChances? chances) =>
        verdict != Verdict.NotMeasured && chances is { } known ? Math.Round(known.Of(verdict), 2) : null;

    private static double? Rounded(double value, int digits) => double.IsFinite(value) ? Math.Round(value, digits) : null;
}
