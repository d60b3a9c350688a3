using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Accuracy;

/// <summary>
/// The drill measured on the true state with the true boundaries: what a perfect recording would give.
/// </summary>
internal static class TruthDrill
{
    public static FlownDrill Of(TruthFlight flight, DrillTemplate template, ToleranceStandard standard)
    {
        var seconds = flight.Seconds;
        var epochUtc = seconds[0].Utc;
        double[] Column(Func<TruthSecond, double> value) => [.. seconds.Select(value)];
        var track = new Track
        {
            Format = "truth",
            EpochUtc = epochUtc,
            TimeS = Column(s => (s.Utc - epochUtc).TotalSeconds),
            LatDeg = Column(s => s.LatDeg),
            LonDeg = Column(s => s.LonDeg),
        };
        var clean = TrackCleaner.Clean(track) ?? throw new InvalidDataException($"The truth of {flight.Id} cannot be used.");
        if (clean.Count != seconds.Count)
            throw new InvalidDataException($"The truth of {flight.Id} has impossible seconds.");

        var headingDeg = Column(s => s.HeadingMagDeg);
        for (var i = 1; i < headingDeg.Length; i++)
            headingDeg[i] = headingDeg[i - 1] + Angles.DifferenceDeg(headingDeg[i], headingDeg[i - 1]);
        var state = new FlightState
        {
            Track = clean,
            InAir = [.. seconds.Select(_ => true)],
            Motion = Reconstructor.Reconstruct(clean, new KnownConditions(null, null, null)).Motion,
            AltitudeFt = Column(s => s.AltitudeFt),
            AltitudeSigmaFt = 0,
            VerticalSpeedFpm = Column(s => s.VerticalSpeedFpm),
            VerticalSpeedSigmaFpm = 0,
            HeadingMagDeg = headingDeg,
            HeadingSigmaDeg = 0,
            TurnRateDegPerS = Column(s => s.TurnRateDegPerS),
            TurnRateSigmaDegPerS = 0,
            AirspeedKt = Column(s => s.AirspeedKt),
            AirspeedSigmaKt = 0,
            TrueAirspeedKt = Column(s => s.TrueAirspeedKt),
            BankDeg = Column(s => s.BankDeg),
            Wind = WindField.Given(0, 0),
            DeclinationDeg = 0,
            HeadingSource = HeadingSource.Recorded,
            AltitudeSource = AltitudeSource.Indicated,
            AirspeedSource = AirspeedSource.Recorded,
        };

        double At(DateTimeOffset utc) => (utc - epochUtc).TotalSeconds;
        var matches = flight
            .Segments.Select(
                (s, k) =>
                    s.GetProperty("flown").GetBoolean()
                        ? new SegmentMatch(
                            k,
                            SegmentStatus.Flown,
                            At(s.GetProperty("start_utc").GetDateTimeOffset()),
                            At(s.GetProperty("end_utc").GetDateTimeOffset())
                        )
                        : new SegmentMatch(k, SegmentStatus.Skipped, double.NaN, double.NaN)
            )
            .ToList();
        var entry = new EstimatedEntry(
            flight.Truth.GetProperty("entry_heading_mag_deg").GetDouble(),
            flight.Truth.GetProperty("base_altitude_ft").GetDouble(),
            0,
            0
        );
        var timeline = DrillTimeline.Resolve(
            template,
            template.Entry with
            {
                HeadingMagDeg = entry.HeadingMagDeg,
                AltitudeFt = entry.AltitudeFt,
            }
        );
        var aborted = matches[^1].Status == SegmentStatus.Skipped;
        return new FlownDrill(state, timeline, new Alignment(matches, 1, aborted) { ClockStartS = At(flight.StartUtc) }, entry, standard);
    }
}
