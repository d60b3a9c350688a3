using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Reconstruction;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Works out where a drill was entered from how its level parts and straights were held.</summary>
public static class EntryEstimator
{
    /// <summary>Estimates the entry.</summary>
    /// <param name="state">Reconstructed flight.</param>
    /// <param name="timeline">The drill resolved for its template's entry.</param>
    /// <param name="alignment">Where its segments were flown.</param>
    /// <param name="options">Heading and altitude where they are given.</param>
    /// <param name="excluded">What does not count.</param>
    public static EstimatedEntry Estimate(
        FlightState state,
        DrillTimeline timeline,
        Alignment alignment,
        ScoringOptions options,
        ExcludedTime excluded
    )
    {
        var template = timeline.Segments[0];
        var (headingMagDeg, headingSigmaDeg) = options.HeadingMagDeg is { } given
            ? (given, null)
            : Heading(state, timeline, alignment, excluded, template.StartHeadingMagDeg);
        var flownFt = LevelOffsets(state, timeline, alignment, excluded).ToArray();
        // A drill that is hardly level shows its altitudes where a climb ends and a descent begins, too.
        if (flownFt.Length < MeasurementModel.EnoughLevels)
            flownFt = [.. flownFt, .. TurningPoints(state, timeline, alignment, excluded).Select(p => p.OffsetFt)];
        if (flownFt.Length == 0)
        {
            return new EstimatedEntry(headingMagDeg, options.AltitudeFt ?? template.StartAltitudeFt, 0, MeasurementModel.NoLevelSigmaFt)
            {
                HeadingSigmaDeg = headingSigmaDeg,
            };
        }

        var entryFt = Median(flownFt);
        // Temperature, the altimeter setting and the geoid put satellite altitude tens to hundreds of feet off: all that can be known
        // is how altitude varied about the level that the pilot held.
        var indicated = state.AltitudeSource == AltitudeSource.Indicated;
        var (altitudeFt, altitudeSigmaFt) = EntryChoice.Altitude(
            entryFt,
            indicated ? MeasurementModel.HeldLevelSigmaFt : HandlingModel.GpsOffsetFt,
            template.StartAltitudeFt
        );
        altitudeFt = options.AltitudeFt ?? altitudeFt;
        return new EstimatedEntry(
            headingMagDeg,
            altitudeFt,
            indicated ? 0 : altitudeFt - entryFt,
            indicated ? 0 : MeasurementModel.HeldLevelSigmaFt
        )
        {
            HeadingSigmaDeg = headingSigmaDeg,
            AltitudeSigmaFt = options.AltitudeFt is null ? altitudeSigmaFt : null,
        };
    }

    private static (double HeadingDeg, double? SigmaDeg) Heading(
        FlightState state,
        DrillTimeline timeline,
        Alignment alignment,
        ExcludedTime excluded,
        double templateDeg
    )
    {
        var offsetsDeg = new List<double>();
        foreach (var match in alignment.Flown)
        {
            var segment = timeline.Segments[match.Index];
            if (segment.TurnRateDegPerS != 0)
                continue;
            var settled = Settled(state, match, excluded).Select(i => state.HeadingMagDeg[i]).Where(double.IsFinite).ToArray();
            if (settled.Length > 0)
                offsetsDeg.Add(Angles.DifferenceDeg(Median(settled), segment.StartHeadingMagDeg));
        }

        // A drill with few straights shows its headings where one turn ends and the next begins, too.
        if (offsetsDeg.Count < MeasurementModel.EnoughLevels)
            offsetsDeg.AddRange(TurningPoints(state, timeline, alignment, excluded).Select(p => p.OffsetDeg));
        if (offsetsDeg.Count == 0)
            return (templateDeg, null);
        // Relative to the first straight, so that offsets on either side of 180° stay together.
        var aboutDeg = offsetsDeg[0];
        var relativeDeg = offsetsDeg.ConvertAll(o => Angles.DifferenceDeg(o, aboutDeg));
        var medianDeg = Median([.. relativeDeg]);
        const double usual = HandlingModel.HeldHeadingDeg,
            weight = HandlingModel.HeldHeadingWeight;
        // A straight flown on another heading says nothing of how the others were held.
        var squares = relativeDeg.Sum(o => Math.Min(Math.Pow(o - medianDeg, 2), 9 * usual * usual));
        var scatterSq = ((weight * usual * usual) + squares) / (weight + relativeDeg.Count);
        // The median of n scatters by half of pi more than their mean.
        var sigmaDeg = Math.Sqrt((Math.PI / 2 * scatterSq / relativeDeg.Count) + (state.HeadingSigmaDeg * state.HeadingSigmaDeg));
        return EntryChoice.Heading(templateDeg + aboutDeg + medianDeg, sigmaDeg);
    }

    private static IEnumerable<double> LevelOffsets(FlightState state, DrillTimeline timeline, Alignment alignment, ExcludedTime excluded)
    {
        var entryFt = timeline.Segments[0].StartAltitudeFt;
        foreach (var match in alignment.Flown)
        {
            var segment = timeline.Segments[match.Index];
            if (segment.VerticalSpeedFpm != 0)
                continue;
            var settled = Settled(state, match, excluded).Select(i => state.AltitudeFt[i]).Where(double.IsFinite).ToArray();
            if (settled.Length > 0)
                yield return Median(settled) - (segment.StartAltitudeFt - entryFt);
        }
    }

    /// <summary>How far altitude and heading are from the template's at the start of each segment flown.</summary>
    private static IEnumerable<(double OffsetFt, double OffsetDeg)> TurningPoints(
        FlightState state,
        DrillTimeline timeline,
        Alignment alignment,
        ExcludedTime excluded
    )
    {
        var entryFt = timeline.Segments[0].StartAltitudeFt;
        foreach (var match in alignment.Flown.Where(m => m.CutS == 0 && !excluded.Covers(m.StartS)))
        {
            var segment = timeline.Segments[match.Index];
            var i = Math.Min(SortedTimes.LowerBound(state.TimeS, match.StartS), state.Count - 1);
            if (!double.IsFinite(state.AltitudeFt[i]) || !double.IsFinite(state.HeadingMagDeg[i]))
                continue;
            yield return (
                state.AltitudeFt[i] - (segment.StartAltitudeFt - entryFt),
                Angles.DifferenceDeg(state.HeadingMagDeg[i], segment.StartHeadingMagDeg)
            );
        }
    }

    private static IEnumerable<int> Settled(FlightState state, SegmentMatch match, ExcludedTime excluded)
    {
        var first = SortedTimes.LowerBound(state.TimeS, match.StartS + HandlingModel.SettleS);
        for (var i = first; i < state.Count && state.TimeS[i] < match.EndS - HandlingModel.LeaveS; i++)
        {
            if (!excluded.Covers(state.TimeS[i]))
                yield return i;
        }
    }

    private static double Median(double[] values)
    {
        var sorted = values.Order().ToArray();
        return sorted.Length % 2 == 1 ? sorted[sorted.Length / 2] : (sorted[(sorted.Length / 2) - 1] + sorted[sorted.Length / 2]) / 2;
    }
}
