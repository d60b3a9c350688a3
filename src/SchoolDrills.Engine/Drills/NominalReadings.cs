using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Drills;

/// <summary>What the instruments read at each second of a drill flown exactly, one column an instrument.</summary>
/// <param name="TimeS">Seconds from the drill's start.</param>
/// <param name="HeadingMagDeg">Magnetic heading, degrees, (0, 360].</param>
/// <param name="AltitudeFt">Indicated altitude, feet.</param>
/// <param name="VerticalSpeedFpm">Vertical speed, feet per minute, up positive.</param>
/// <param name="TurnRateDegPerS">Rate of turn, degrees per second, right positive.</param>
/// <param name="AirspeedKt">Indicated airspeed, knots.</param>
/// <param name="SegmentIndex">The segment.</param>
public sealed record NominalReadings(
    double[] TimeS,
    double[] HeadingMagDeg,
    double[] AltitudeFt,
    double[] VerticalSpeedFpm,
    double[] TurnRateDegPerS,
    double[] AirspeedKt,
    int[] SegmentIndex
)
{
    /// <summary>The readings of a drill.</summary>
    /// <param name="timeline">The drill.</param>
    public static NominalReadings Of(DrillTimeline timeline)
    {
        var count = (int)Math.Floor(timeline.DurationS) + 1;
        double[] Column() => new double[count];
        var readings = new NominalReadings(Column(), Column(), Column(), Column(), Column(), Column(), new int[count]);
        var k = 0;
        for (var i = 0; i < count; i++)
        {
            while (k < timeline.Segments.Count - 1 && timeline.Segments[k].EndS <= i)
                k++;
            var segment = timeline.Segments[k];
            var elapsedS = i - segment.StartS;
            readings.TimeS[i] = i;
            readings.HeadingMagDeg[i] = Angles.NormalizeDeg(segment.StartHeadingMagDeg + segment.TurnedDegAt(elapsedS));
            readings.AltitudeFt[i] = segment.AltitudeFtAt(elapsedS);
            readings.AirspeedKt[i] = segment.AirspeedKtAt(elapsedS);
            // What has reached its target before the segment's end holds it.
            readings.VerticalSpeedFpm[i] = readings.AltitudeFt[i] == segment.EndAltitudeFt ? 0 : segment.VerticalSpeedFpm;
            readings.TurnRateDegPerS[i] = segment.TurnedDegAt(elapsedS) == segment.TurnDeg ? 0 : segment.TurnRateDegPerS;
            readings.SegmentIndex[i] = k;
        }

        return readings;
    }
}
