using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Reconstruction;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Lays the reconstructed flight out as columns for plots, at no more than one sample a second.</summary>
internal static class PlotColumns
{
    /// <summary>Columns with targets and bands where a segment was being flown; without a drill, the flight alone.</summary>
    public static TrackColumns Of(FlightState state, FlownDrill? drill)
    {
        var shown = Shown(state);
        var epochS = drill?.Alignment.StartS ?? state.TimeS[0];
        var offsetFt = drill?.Entry.AltitudeOffsetFt ?? 0;
        var segmentAt = new FlownSegment?[state.Count];
        foreach (var segment in drill?.Segments.OfType<FlownSegment>() ?? [])
            Array.Fill(segmentAt, segment, segment.First, segment.End - segment.First);

        double?[] Column(Func<int, double> value, int digits) =>
            Array.ConvertAll(shown, i => value(i) is var v && double.IsFinite(v) ? Math.Round(v, digits) : (double?)null);
        double?[] Target(Func<FlownSegment, int, double> value, int digits) =>
            Array.ConvertAll(shown, i => segmentAt[i] is { } s ? Math.Round(value(s, i), digits) : (double?)null);
        double?[] Band(Parameter parameter) =>
            Array.ConvertAll(shown, i => segmentAt[i] is { } s ? drill!.Standard.WithinFor(parameter, s.Segment) : null);

        var track = state.Track;
        var nominal = drill is null ? NominalGround.None : NominalGround.Of(drill);
        return new TrackColumns
        {
            EpochUtc = track.Source.EpochUtc.AddSeconds(epochS),
            TimeS = Array.ConvertAll(shown, i => Math.Round(state.TimeS[i] - epochS, 2)),
            LatDeg = Array.ConvertAll(shown, i => Math.Round(track.Source.LatDeg[track.Kept[i]], 7)),
            LonDeg = Array.ConvertAll(shown, i => Math.Round(track.Source.LonDeg[track.Kept[i]], 7)),
            AltitudeFt = Column(i => state.AltitudeFt[i] + offsetFt, 0),
            HeadingMagDeg = Column(i => Angles.NormalizeDeg(state.HeadingMagDeg[i]), 1),
            VerticalSpeedFpm = Column(i => state.VerticalSpeedFpm[i], 0),
            TurnRateDegPerS = Column(i => state.TurnRateDegPerS[i], 2),
            AirspeedKt = Column(i => state.AirspeedKt[i], 1),
            SegmentIndex = Array.ConvertAll(shown, i => segmentAt[i]?.Segment.Index),
            AltitudeTargetFt = Target((s, i) => s.Segment.AltitudeFtAt(s.ElapsedS(i)), 0),
            HeadingTargetMagDeg = Target((s, i) => s.TargetHeadingMagDeg(i), 1),
            VerticalSpeedTargetFpm = Target((s, i) => s.Segment.VerticalSpeedFpm, 0),
            TurnRateTargetDegPerS = Target((s, i) => s.Segment.TurnRateDegPerS, 2),
            AirspeedTargetKt = Target((s, i) => s.Segment.AirspeedKtAt(s.ElapsedS(i)), 1),
            AltitudeBandFt = Band(Parameter.Altitude),
            HeadingBandDeg = Band(Parameter.Heading),
            VerticalSpeedBandFpm = Band(Parameter.VerticalSpeed),
            TurnRateBandDegPerS = Band(Parameter.TurnRate),
            AirspeedBandKt = Band(Parameter.Airspeed),
            NominalTimeS = nominal.TimeS,
            NominalLatDeg = nominal.LatDeg,
            NominalLonDeg = nominal.LonDeg,
        };
    }

    /// <summary>No flight at all.</summary>
    public static TrackColumns Empty(DateTimeOffset epochUtc) =>
        new()
        {
            EpochUtc = epochUtc,
            TimeS = [],
            LatDeg = [],
            LonDeg = [],
            AltitudeFt = [],
            HeadingMagDeg = [],
            VerticalSpeedFpm = [],
            TurnRateDegPerS = [],
            AirspeedKt = [],
            SegmentIndex = [],
            AltitudeTargetFt = [],
            HeadingTargetMagDeg = [],
            VerticalSpeedTargetFpm = [],
            TurnRateTargetDegPerS = [],
            AirspeedTargetKt = [],
            AltitudeBandFt = [],
            HeadingBandDeg = [],
            VerticalSpeedBandFpm = [],
            TurnRateBandDegPerS = [],
            AirspeedBandKt = [],
        };

    private static int[] Shown(FlightState state)
    {
        var shown = new List<int>(state.Count);
        var lastS = double.NegativeInfinity;
        for (var i = 0; i < state.Count; i++)
        {
            if (state.TimeS[i] - lastS < 0.95)
                continue;
            shown.Add(i);
            lastS = state.TimeS[i];
        }

        return [.. shown];
    }
}
