using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>What left its target and was not brought back, with the load task in whose wake it began where one was noted.</summary>
internal sealed class DriftFindings(FlownDrill drill, FindingNotes notes, IReadOnlyList<FlightEvent> events)
{
    /// <summary>Time outside that makes a drift, seconds.</summary>
    private const double DriftS = 8;

    /// <summary>A drift that begins within this time of a load task began in its wake, seconds.</summary>
    private const double WakeS = 30;

    /// <summary>Looks over one flown segment.</summary>
    public void Of(int k, FlownSegment segment)
    {
        foreach (var deviation in drill.Deviations[k])
        {
            if (deviation.Exceedances.Count == 0 || deviation.Sigma > deviation.Within / 2) continue;
            var worst = deviation.Exceedances.MaxBy(e => Math.Abs(e.Worst));
            if (worst.DurationS < DriftS) continue;
            var size = Math.Abs(worst.Worst);
            var weight = size / deviation.Within * Math.Min(2, worst.DurationS / 15);
            switch (deviation.Parameter)
            {
                case Parameter.Altitude when segment.Segment.VerticalSpeedFpm == 0:
                    notes.Tell(weight, k, FindingKind.AltitudeDrift, Parameter.Altitude, size, worst.WorstAtS, $"Altitude drifted {Judge.Text(size, Parameter.Altitude)} {(worst.Worst > 0 ? "high" : "low")} and stayed outside for {worst.DurationS:0} s{Wake(worst.StartS)}.");
                    break;
                case Parameter.Heading when segment.Segment.TurnDeg == 0 && worst.StartS > segment.Match.StartS + ManeuverFindings.RollOutLookS:
                    notes.Tell(weight, k, FindingKind.HeadingDrift, Parameter.Heading, size, worst.WorstAtS, $"Heading drifted {size:0}° {(worst.Worst > 0 ? "right" : "left")} of {FindingNotes.Heading(segment.Segment.StartHeadingMagDeg)} and stayed outside for {worst.DurationS:0} s{Wake(worst.StartS)}.");
                    break;
                case Parameter.Airspeed:
                    notes.Tell(weight * 0.8, k, FindingKind.AirspeedDrift, Parameter.Airspeed, size, worst.WorstAtS, $"Airspeed {(worst.Worst > 0 ? "rose" : "fell")} to {segment.Segment.AirspeedKtAt(segment.Match.DurationS) + worst.Worst:0} kt and stayed outside for {worst.DurationS:0} s{Wake(worst.StartS)}.");
                    break;
            }
        }
    }

    private string Wake(double atS)
    {
        var epochUtc = drill.State.Track.Source.EpochUtc;
        var task = events.Where(e => e.Kind == "load-task" && atS - (e.AtUtc - epochUtc).TotalSeconds is >= 0 and <= WakeS).MaxBy(e => e.AtUtc);
        return task is null ? "" : $", begun {atS - (task.AtUtc - epochUtc).TotalSeconds:0} s after the load task{(string.IsNullOrWhiteSpace(task.Detail) ? "" : " " + task.Detail.Trim())}";
    }
}
