using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;

namespace SchoolDrills.Engine.Scoring;

/// <summary>A drill as it was flown, measured: every flown segment with the deviation of every parameter that the standard names.</summary>
public sealed class FlownDrill
{
    /// <summary>Measures a drill.</summary>
    /// <param name="state">Reconstructed flight.</param>
    /// <param name="timeline">The drill resolved for the entry as flown.</param>
    /// <param name="alignment">Where its segments were flown.</param>
    /// <param name="entry">Entry as flown.</param>
    /// <param name="standard">Tolerances.</param>
    /// <param name="excluded">What does not count.</param>
    public FlownDrill(
        FlightState state,
        DrillTimeline timeline,
        Alignment alignment,
        EstimatedEntry entry,
        ToleranceStandard standard,
        ExcludedTime? excluded = null
    )
    {
        Excluded = excluded ?? ExcludedTime.None;
        State = state;
        Timeline = timeline;
        Alignment = alignment;
        Entry = entry;
        Standard = standard;
        Segments =
        [
            .. timeline.Segments.Select(s =>
                alignment.Matches[s.Index] is { Status: not SegmentStatus.Skipped } match
                    ? new FlownSegment(state, entry.AltitudeOffsetFt, s, match, Excluded)
                    : null
            ),
        ];
        ClockErrorS = ClockErrors();
        Deviations = [.. Segments.Select(s => s is null ? (IReadOnlyList<Deviation>)[] : [.. Measure(s)])];
    }

    /// <summary>Reconstructed flight.</summary>
    public FlightState State { get; }

    /// <summary>The drill resolved for the entry as flown.</summary>
    public DrillTimeline Timeline { get; }

    /// <summary>Where its segments were flown.</summary>
    public Alignment Alignment { get; }

    /// <summary>Entry as flown.</summary>
    public EstimatedEntry Entry { get; }

    /// <summary>Tolerances.</summary>
    public ToleranceStandard Standard { get; }

    /// <summary>What does not count.</summary>
    public ExcludedTime Excluded { get; }

    /// <summary>Flown mirrored against what was planned.</summary>
    public bool Mirrored { get; init; }

    /// <summary>One for every segment of the drill, null where skipped.</summary>
    public IReadOnlyList<FlownSegment?> Segments { get; }

    /// <summary>
    /// Start of each segment against the drill's clock, late positive, seconds; NaN where skipped, where time before it is excluded or
    /// went into other flight or an earlier rendition, and where nothing was recorded about it. All of these move the clock, so the
    /// segments after them are not early or late because of them.
    /// </summary>
    public IReadOnlyList<double> ClockErrorS { get; }

    /// <summary>Deviations by segment; none where skipped.</summary>
    public IReadOnlyList<IReadOnlyList<Deviation>> Deviations { get; }

    /// <summary>One standard deviation of altitude, feet, including its distance from the altimeter.</summary>
    public double AltitudeSigmaFt =>
        Math.Sqrt((State.AltitudeSigmaFt * State.AltitudeSigmaFt) + (Entry.AltitudeAnchorSigmaFt * Entry.AltitudeAnchorSigmaFt));

    /// <summary>Nothing was recorded about the start of a segment, so that it is known to some seconds only.</summary>
    /// <param name="k">The segment.</param>
    public bool StartUnseen(int k)
    {
        if (Segments[k] is not { Match.StartS: var startS })
            return false;
        var after = Math.Min(SortedTimes.LowerBound(State.TimeS, startS), State.Count - 1);
        var awayS = Math.Min(Math.Abs(State.TimeS[after] - startS), Math.Abs(startS - State.TimeS[Math.Max(0, after - 1)]));
        return awayS > Math.Max(MeasurementModel.UnseenS, State.Track.MedianIntervalS);
    }

    /// <summary>Length of the drill without its pauses, seconds.</summary>
    public double FlownS => Math.Max(0, Alignment.EndS - Alignment.StartS - Excluded.PausedS(Alignment.StartS, Alignment.EndS));

    /// <summary>
    /// The flight does not show whether a segment was flown (<see cref="Alignment.IsUnseen"/>), or it was left out about a pause, which may
    /// be why.
    /// </summary>
    /// <param name="k">The segment.</param>
    public bool IsUnseen(int k) =>
        Alignment.IsUnseen(k)
        || (
            Segments[k] is null
            && Excluded.PausedIn(
                Segments.Take(k).LastOrDefault(s => s is not null)?.Match.StartS ?? double.NegativeInfinity,
                Segments.Skip(k + 1).FirstOrDefault(s => s is not null)?.Match.StartS ?? double.PositiveInfinity
            )
        );

    private double[] ClockErrors()
    {
        var errors = new double[Segments.Count];
        double allowedS = 0,
            lastS = 0,
            beforeS = Alignment.ClockStartS,
            endedS = double.NaN;
        for (var k = 0; k < errors.Length; k++)
        {
            errors[k] = double.NaN;
            if (Segments[k] is not { Match: var match })
            {
                if (!Alignment.IsUnseen(k))
                    allowedS += Timeline.Segments[k].DurationS;
                continue;
            }

            var startS = match.StartS;
            var pauses = match.FirstStartS is not null || startS - endedS > HandlingModel.HesitationS;
            var errorS = startS - Alignment.ClockStartS - Timeline.Segments[k].StartS + allowedS;
            if (pauses || Excluded.Touches(beforeS, startS))
                allowedS -= errorS - lastS;
            else if (!StartUnseen(k))
                errors[k] = lastS = errorS;
            (beforeS, endedS) = (startS, match.EndS);
        }

        return errors;
    }

    private IEnumerable<Deviation> Measure(FlownSegment segment)
    {
        foreach (var parameter in Planned(segment.Segment))
        {
            if (Standard.WithinFor(parameter, segment.Segment) is not { } within)
                continue;
            yield return Scoring.Deviations.Measure(segment, State.TimeS, State.Track.GapS, parameter, within, Sigma(parameter, segment));
        }
    }

    /// <summary>A deviation as it would be if its measurement were too high by an error.</summary>
    internal Deviation Without(double error, FlownSegment segment, Deviation measured) =>
        Scoring.Deviations.Measure(segment, State.TimeS, State.Track.GapS, measured.Parameter, measured.Within, measured.Sigma, error);

    private static IEnumerable<Parameter> Planned(TimelineSegment segment)
    {
        yield return Parameter.Altitude;
        yield return Parameter.Heading;
        yield return Parameter.Airspeed;
        if (segment.VerticalSpeedFpm != 0)
            yield return Parameter.VerticalSpeed;
        if (segment.TurnRateDegPerS == 0)
            yield break;
        yield return Parameter.TurnRate;
        yield return Parameter.Bank;
    }

    /// <summary>
    /// One standard deviation of a parameter in a segment: a target that moves is off by its rate times what the start is off by.
    /// </summary>
    private double Sigma(Parameter parameter, FlownSegment flown)
    {
        var (segment, startSigmaS) = (flown.Segment, flown.Match.StartSigmaS);
        return parameter switch
        {
            Parameter.Altitude => double.Hypot(AltitudeSigmaFt, segment.VerticalSpeedFpm / 60 * startSigmaS),
            Parameter.Heading => double.Hypot(State.HeadingSigmaDeg, segment.TurnRateDegPerS * startSigmaS),
            Parameter.Airspeed => double.Hypot(
                State.AirspeedSigmaKt,
                (segment.AirspeedKt - segment.StartAirspeedKt) / segment.DurationS * startSigmaS
            ),
            Parameter.VerticalSpeed => State.VerticalSpeedSigmaFpm,
            Parameter.TurnRate => State.TurnRateSigmaDegPerS,
            _ => State.Track.Source.BankDeg is not null ? MeasurementModel.RecordedBankSigmaDeg : MeasurementModel.CoordinatedBankSigmaDeg,
        };
    }
}
