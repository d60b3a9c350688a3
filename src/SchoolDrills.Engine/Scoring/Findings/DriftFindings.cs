using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// Parameters that left their target and were not brought back, with the load task they followed where one was noted. A drift that
/// goes on into the next segment is reported once, where it was worst.
/// </summary>
internal sealed class DriftFindings(FlownDrill drill, FindingNotes notes, IReadOnlyList<FlightEvent> events)
{
    /// <summary>Notes the drifts of all segments.</summary>
    public void Add()
    {
        foreach (var parameter in (Parameter[])[Parameter.Altitude, Parameter.Heading, Parameter.Airspeed])
        {
            Drift? open = null;
            foreach (var drift in drill.Segments.OfType<FlownSegment>().Select(s => Worst(s, parameter)).OfType<Drift>())
            {
                if (open is not null && GoesOn(open, drift))
                {
                    open =
                        Math.Abs(open.Worst) >= Math.Abs(drift.Worst)
                            ? open with
                            {
                                EndS = drift.EndS,
                            }
                            : drift with
                            {
                                StartS = open.StartS,
                            };
                    continue;
                }

                if (open is not null)
                    Add(open, parameter);
                open = drift;
            }

            if (open is not null)
                Add(open, parameter);
        }
    }

    private Drift? Worst(FlownSegment segment, Parameter parameter)
    {
        if (parameter == Parameter.Altitude && segment.Segment.VerticalSpeedFpm != 0)
            return null;
        if (parameter == Parameter.Heading && segment.Segment.TurnDeg != 0)
            return null;
        if (
            drill.Deviations[segment.Segment.Index].FirstOrDefault(d => d.Parameter == parameter)
                is not { Exceedances.Count: > 0 } deviation
            || deviation.Sigma > JudgementRules.CoarsestShare * deviation.Within
        )
        {
            return null;
        }

        var worst = deviation.Exceedances.MaxBy(e => Math.Abs(e.Worst));
        // What a roll-out left behind is reported as a bad roll-out.
        if (
            worst.DurationS * Math.Abs(worst.Worst) / deviation.Within < FindingThresholds.DriftS
            || (parameter == Parameter.Heading && worst.StartS <= segment.Match.StartS + FindingThresholds.RollOutLookS)
        )
        {
            return null;
        }

        return new Drift(segment, worst.StartS, worst.EndS, worst.Worst, worst.WorstAtS, deviation.Within, deviation.Sigma);
    }

    private static bool GoesOn(Drift a, Drift b) => b.StartS - a.EndS is >= 0 and <= FindingThresholds.DriftPauseS && a.Worst * b.Worst > 0;

    private void Add(Drift drift, Parameter parameter)
    {
        var size = Math.Abs(drift.Worst);
        var weight =
            size / drift.Within * Math.Min(FindingThresholds.MostDriftWeight, (drift.EndS - drift.StartS) / FindingThresholds.DriftWeighsS);
        var segment = drift.Segment.Segment;
        var (kind, what) = parameter switch
        {
            Parameter.Altitude => (
                FindingKind.AltitudeDrift,
                $"Altitude drifted {ParameterFormat.Text(size, Parameter.Altitude)} {(drift.Worst > 0 ? "high" : "low")}"
            ),
            Parameter.Heading => (
                FindingKind.HeadingDrift,
                $"Heading drifted {size:0}° {(drift.Worst > 0 ? "right" : "left")} of {TimelineCalls.Heading(segment.StartHeadingMagDeg)}"
            ),
            _ => (
                FindingKind.AirspeedDrift,
                $"Airspeed {(drift.Worst > 0 ? "rose" : "fell")} to "
                    + $"{segment.AirspeedKtAt(drift.WorstAtS - drift.Segment.Match.AnchorS) + drift.Worst:0} kt"
            ),
        };
        notes.Add(
            parameter == Parameter.Airspeed ? weight * FindingThresholds.AirspeedWeight : weight,
            segment.Index,
            kind,
            parameter,
            size,
            drift.WorstAtS,
            $"{what} and stayed outside for {drift.EndS - drift.StartS:0} s{Wake(drift.StartS)}.",
            FindingNotes.Beyond(Math.Abs(drift.Worst), drift.Within, drift.Sigma)
        );
    }

    private string Wake(double atS)
    {
        var epochUtc = drill.State.Track.Source.EpochUtc;
        var task = events
            .Where(e =>
                e.Kind == EventKinds.TaskGiven && atS - (e.AtUtc - epochUtc).TotalSeconds is >= 0 and <= FindingThresholds.LoadTaskWakeS
            )
            .MaxBy(e => e.AtUtc);
        if (task is null)
            return "";
        var name = string.IsNullOrWhiteSpace(task.Detail) ? "" : " " + task.Detail.Trim();
        return $", begun {atS - (task.AtUtc - epochUtc).TotalSeconds:0} s after the load task{name}";
    }

    /// <summary>A time outside, in the segment where it was worst.</summary>
    private sealed record Drift(
        FlownSegment Segment,
        double StartS,
        double EndS,
        double Worst,
        double WorstAtS,
        double Within,
        double Sigma
    );
}
