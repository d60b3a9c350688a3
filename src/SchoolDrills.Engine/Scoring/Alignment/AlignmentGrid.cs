using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Reconstruction;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// The quantities that tell one segment from another on an even grid, with running sums of how well each pair of targets explains
/// them, so that the score of any stretch for any segment costs one subtraction.
/// </summary>
internal sealed class AlignmentGrid
{
    private readonly Dictionary<(double Turn, double Vertical), double[]> sums = [];

    /// <summary>Step of the grid, seconds: boundaries are refined afterwards, and doubling the step quarters the time.</summary>
    private const double LeastStepS = 2;

    /// <summary>Lays a stretch of a flight on a grid.</summary>
    public AlignmentGrid(FlightState state, double fromS, double toS)
    {
        StepS = Math.Max(LeastStepS, state.Track.MedianIntervalS);
        // On whole steps of the day, so that the same flight lies on the same grid whenever its recording begins.
        var epochS = (state.Track.Source.EpochUtc - DateTimeOffset.UnixEpoch).TotalSeconds;
        StartS = (Math.Ceiling((epochS + fromS) / StepS) * StepS) - epochS;
        Count = (int)Math.Floor((toS - StartS) / StepS) + 1;
        (BeginsRecording, EndsRecording) = (fromS <= state.TimeS[0], toS >= state.TimeS[^1]);
        TurnRateDegPerS = Resample(state, state.TurnRateDegPerS, state.HeadingMagDeg);
        VerticalSpeedFpm = Resample(state, state.VerticalSpeedFpm, Array.ConvertAll(state.AltitudeFt, ft => ft * 60));
        HeadingDeg = Resample(state, state.HeadingMagDeg);
        // Where the wind is not known ground speed shows a change as well, since speed is changed on a steady heading.
        SpeedKt = Resample(state, [.. state.AirspeedKt.Select((kt, i) => double.IsFinite(kt) ? kt : state.Motion.GroundSpeedKt(i))]);
        AltitudeFt = Resample(state, state.AltitudeFt);
        OnGround = new bool[Count];
        for (var (g, i) = (0, 0); g < Count; g++)
        {
            while (i + 1 < state.Count && state.TimeS[i + 1] <= TimeS(g))
                i++;
            OnGround[g] = !state.InAir[i];
        }
    }

    public double StepS { get; }

    /// <summary>Segment lengths tried so far: the measure of the work done.</summary>
    public long LengthsTried { get; set; }

    public double StartS { get; }

    public int Count { get; }

    /// <summary>What came before was not recorded; otherwise the stretch is a part of the recording.</summary>
    public bool BeginsRecording { get; }

    /// <summary>What comes after was not recorded.</summary>
    public bool EndsRecording { get; }

    public double[] TurnRateDegPerS { get; }

    public double[] VerticalSpeedFpm { get; }

    /// <summary>What each moment says for a held rate, worked out once for all drills.</summary>
    public FlightEvidence Evidence => field ??= new FlightEvidence(this);

    /// <summary>Before a take-off or after a landing: no drill is flown there.</summary>
    public bool[] OnGround { get; }

    public double[] HeadingDeg { get; }

    public double[] AltitudeFt { get; }

    public double[] SpeedKt { get; }

    public double TimeS(int i) => StartS + (i * StepS);

    public int IndexAt(double timeS) => Math.Clamp((int)Math.Round((timeS - StartS) / StepS), 0, Count - 1);

    /// <summary>Running sum of the score: the score of [i, j) is the difference of its elements j and i.</summary>
    public double[] ScoreSum(double turnTargetDegPerS, double verticalTargetFpm)
    {
        if (sums.TryGetValue((turnTargetDegPerS, verticalTargetFpm), out var known))
            return known;
        var sum = new double[Count + 1];
        var turnScatter =
            AlignmentModel.TurnRateScatterDegPerS * Math.Max(1, Steepness(turnTargetDegPerS) / Steepness(TurnGeometry.StandardRateDegPerS));
        for (var i = 0; i < Count; i++)
        {
            var turn = (TurnRateDegPerS[i] - turnTargetDegPerS) / turnScatter;
            var vertical = (VerticalSpeedFpm[i] - verticalTargetFpm) / AlignmentModel.VerticalSpeedScatterFpm;
            // A gap is evidence neither for nor against.
            var score =
                OnGround[i] ? -2 * AlignmentModel.CostCap
                : double.IsFinite(turn) && double.IsFinite(vertical)
                    ? AlignmentModel.ScorePerS
                        - Math.Min(turn * turn, AlignmentModel.CostCap)
                        - Math.Min(vertical * vertical, AlignmentModel.CostCap)
                : 0;
            sum[i + 1] = sum[i] + (score * StepS);
        }

        return sums[(turnTargetDegPerS, verticalTargetFpm)] = sum;
    }

    /// <summary>How much a degree of bank changes the turn rate, beside wings level: one over the squared cosine of the bank.</summary>
    private static double Steepness(double turnRateDegPerS) => 1 + Math.Pow(turnRateDegPerS / AlignmentModel.Rate45DegPerS, 2);

    /// <summary>
    /// A column between its samples. Over a short gap the aeroplane is taken to have turned and climbed evenly, so a rate comes from
    /// the change of its own quantity.
    /// </summary>
    private double[] Resample(FlightState state, double[] column, double[]? rateOf = null)
    {
        var values = new double[Count];
        var i = Math.Clamp(SortedTimes.LowerBound(state.TimeS, StartS) - 1, 0, state.Count - 2);
        for (var g = 0; g < Count; g++)
        {
            var t = TimeS(g);
            while (i + 2 < state.Count && state.TimeS[i + 1] <= t)
                i++;
            var span = state.TimeS[i + 1] - state.TimeS[i];
            values[g] =
                span > Math.Max(state.Track.GapS, SensorModel.BridgedGapS) ? double.NaN
                : span > state.Track.GapS && rateOf is not null ? (rateOf[i + 1] - rateOf[i]) / span
                : column[i] + ((column[i + 1] - column[i]) * Math.Clamp((t - state.TimeS[i]) / span, 0, 1));
        }

        return values;
    }
}
