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
                Verdict = drill.Alignment.OutsideRecording(segment.Index) ? Verdict.NotMeasured : Verdict.NotMet,
            };
        }

        var startErrorS = match.StartS - drill.Alignment.ClockStartS - segment.StartS;
        var deviations = drill.Deviations[segment.Index].Select(d => Deviation(d, drill.Standard, epoch)).ToList();
        if (segment.Index > 0 && drill.Standard.WithinFor(Parameter.Timing, segment) is { } withinS)
        {
            deviations.Add(
                Timing(drill.ClockErrorS[segment.Index], drill.StartUnseen(segment.Index), withinS, epoch.AddSeconds(match.StartS))
            );
        }

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
            StartErrorS = Math.Round(startErrorS, 1),
            EndErrorS = Math.Round(match.EndS - drill.Alignment.ClockStartS - segment.EndS, 1),
            Deviations = deviations,
            Verdict = Judge.OnSegment(deviations.Select(d => (d.Parameter, d.Verdict))),
        };
    }

    private static DeviationReport Deviation(Deviation measured, ToleranceStandard standard, DateTimeOffset epoch)
    {
        var (verdict, why) = Judge.OnDeviation(measured, standard);
        var known = measured.MeasuredS > 0;
        return new DeviationReport
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
            Why = why,
        };
    }

    private static DeviationReport Timing(double errorS, bool unseen, double withinS, DateTimeOffset atUtc)
    {
        if (double.IsNaN(errorS))
        {
            return new DeviationReport
            {
                Parameter = Parameter.Timing,
                Unit = ParameterFormat.Unit(Parameter.Timing),
                Tolerance = withinS,
                Verdict = Verdict.NotMeasured,
                Why = unseen
                    ? "Begun while nothing was recorded, so when is not known well enough."
                    : "Time before it was left out, so the clock says nothing.",
            };
        }

        var (verdict, why) = Judge.OnTiming(errorS, withinS);
        return new DeviationReport
        {
            Parameter = Parameter.Timing,
            Unit = ParameterFormat.Unit(Parameter.Timing),
            Tolerance = withinS,
            MeanAbs = Math.Round(Math.Abs(errorS), 1),
            Rms = Math.Round(Math.Abs(errorS), 1),
            MaxAbs = Math.Round(Math.Abs(errorS), 1),
            Worst = Math.Round(errorS, 1),
            WorstAtUtc = atUtc,
            Sigma = MeasurementModel.BoundarySigmaS,
            WithinShare = Math.Abs(errorS) <= withinS ? 1 : 0,
            Verdict = verdict,
            Why = why,
        };
    }

    private static double? Rounded(double value, int digits) => double.IsFinite(value) ? Math.Round(value, digits) : null;
}
