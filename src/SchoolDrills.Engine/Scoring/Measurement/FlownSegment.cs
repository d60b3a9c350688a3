using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Reconstruction;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// One segment with the flight in it: the signed deviations, actual minus target, of every parameter at every sample. Targets run
/// from the segment's real start; rates count only after the time that rolling and pitching take.
/// </summary>
public sealed class FlownSegment
{
    private readonly FlightState state;
    private readonly double altitudeOffsetFt;
    private readonly ExcludedTime excluded;

    /// <summary>Puts a segment beside its flight.</summary>
    /// <param name="state">Reconstructed flight.</param>
    /// <param name="altitudeOffsetFt">To be added to the recording's altitude to make it the altimeter's, feet.</param>
    /// <param name="segment">What was planned, resolved for the entry as flown.</param>
    /// <param name="match">Where it was flown.</param>
    /// <param name="excluded">What does not count.</param>
    public FlownSegment(
        FlightState state,
        double altitudeOffsetFt,
        TimelineSegment segment,
        SegmentMatch match,
        ExcludedTime? excluded = null
    )
    {
        this.excluded = excluded ?? ExcludedTime.None;
        this.state = state;
        this.altitudeOffsetFt = altitudeOffsetFt;
        Segment = segment;
        Match = match;
        First = SortedTimes.LowerBound(state.TimeS, match.StartS);
        End = Math.Max(First, SortedTimes.LowerBound(state.TimeS, match.EndS));
        LevelFrom = Enumerable.Range(First, End - First).FirstOrDefault(NearlyDone, End);
    }

    /// <summary>What was planned.</summary>
    public TimelineSegment Segment { get; }

    /// <summary>Where it was flown.</summary>
    public SegmentMatch Match { get; }

    /// <summary>First sample.</summary>
    public int First { get; }

    /// <summary>One past the last sample.</summary>
    public int End { get; }

    /// <summary>
    /// First sample at which a climb or descent was nearly done, so that it is time to level off; <see cref="End"/> where it never was.
    /// </summary>
    private int LevelFrom { get; }

    /// <summary>A sample counts: it is not excluded.</summary>
    /// <param name="i">Sample.</param>
    public bool Counts(int i) => !excluded.Covers(state.TimeS[i]);

    /// <summary>
    /// The target of a parameter at a sample is not known: it moves with the time flown, and the segment was broken off by a pause.
    /// </summary>
    /// <param name="parameter">What.</param>
    /// <param name="i">Sample.</param>
    public bool HasLostTarget(Parameter parameter, int i) =>
        parameter switch
        {
            Parameter.Altitude => Segment.VerticalSpeedFpm != 0,
            Parameter.Heading => Segment.TurnRateDegPerS != 0,
            Parameter.Airspeed => Segment.StartAirspeedKt != Segment.AirspeedKt,
            _ => false,
        } && excluded.PausedIn(Match.StartS, state.TimeS[i]);

    /// <summary>Seconds since the segment's real start.</summary>
    /// <param name="i">Sample.</param>
    public double ElapsedS(int i) => state.TimeS[i] - Match.AnchorS;

    /// <summary>Altimeter reading, feet.</summary>
    /// <param name="i">Sample.</param>
    public double AltitudeFt(int i) => state.AltitudeFt[i] + altitudeOffsetFt;

    /// <summary>Target magnetic heading, degrees, (0, 360].</summary>
    /// <param name="i">Sample.</param>
    public double TargetHeadingMagDeg(int i) => Angles.NormalizeDeg(Segment.StartHeadingMagDeg + Segment.TurnedDegAt(ElapsedS(i)));

    /// <summary>Signed deviation of a parameter at a sample in its unit; NaN where it is not known or does not count.</summary>
    /// <param name="parameter">What.</param>
    /// <param name="i">Sample.</param>
    public double Deviation(Parameter parameter, int i) =>
        !Counts(i) || HasLostTarget(parameter, i)
            ? double.NaN
            : parameter switch
            {
                Parameter.Altitude => AltitudeFt(i) - Segment.AltitudeFtAt(ElapsedS(i)),
                Parameter.Heading => Angles.DifferenceDeg(state.HeadingMagDeg[i], TargetHeadingMagDeg(i)),
                Parameter.Airspeed => state.AirspeedKt[i] - Segment.AirspeedKtAt(ElapsedS(i)),
                Parameter.VerticalSpeed => Climbs(i) ? state.VerticalSpeedFpm[i] - Segment.VerticalSpeedFpm : double.NaN,
                Parameter.TurnRate => Turns(i) ? state.TurnRateDegPerS[i] - Segment.TurnRateDegPerS : double.NaN,
                Parameter.Bank => Turns(i) ? state.BankDeg[i] - TargetBankDeg(i) : double.NaN,
                _ => double.NaN,
            };

    /// <summary>Bank that gives the segment's turn rate at the airspeed flown, degrees, right positive.</summary>
    /// <param name="i">Sample.</param>
    private double TargetBankDeg(int i) =>
        Math.Atan(Units.KtToMps(state.TrueAirspeedKt[i]) * Segment.TurnRateDegPerS * Math.PI / 180 / Units.StandardGravityMps2)
        * 180
        / Math.PI;

    /// <summary>The climb or descent counts: established and not yet levelling off.</summary>
    private bool Climbs(int i) => Segment.VerticalSpeedFpm != 0 && ElapsedS(i) >= HandlingModel.TransitionS && i < LevelFrom;

    private bool NearlyDone(int i)
    {
        var leftFt = (Segment.EndAltitudeFt - AltitudeFt(i)) * Math.Sign(Segment.VerticalSpeedFpm);
        var leadFt = Math.Max(
            MeasurementModel.NearlyDoneLeads * HandlingModel.LevelOffLeadShare * Math.Abs(Segment.VerticalSpeedFpm),
            MeasurementModel.NearlyDoneShare * Math.Abs(Segment.EndAltitudeFt - Segment.StartAltitudeFt)
        );
        return Segment.VerticalSpeedFpm != 0 && leftFt <= leadFt;
    }

    /// <summary>The turn counts: established and not yet rolling out.</summary>
    private bool Turns(int i)
    {
        if (Segment.TurnRateDegPerS == 0 || ElapsedS(i) < HandlingModel.TransitionS)
            return false;
        var turnedDeg = (state.HeadingMagDeg[i] - state.HeadingMagDeg[First]) * Math.Sign(Segment.TurnDeg);
        return Math.Abs(Segment.TurnDeg) - turnedDeg > HandlingModel.RollOutLeadDeg;
    }
}
