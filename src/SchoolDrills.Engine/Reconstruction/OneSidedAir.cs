namespace SchoolDrills.Engine.Reconstruction;

/// <summary>What is known of the motion through the air, besides the motion over the ground.</summary>
internal enum AirEvidence
{
    /// <summary>Nothing: the pilot holds an airspeed for some time.</summary>
    None,

    /// <summary>The airspeeds that the pilot planned to hold.</summary>
    PlannedAirspeed,

    /// <summary>The airspeed, sample by sample.</summary>
    RecordedAirspeed,

    /// <summary>The heading, sample by sample.</summary>
    RecordedHeading,
}

/// <summary>
/// Airspeed recorded without heading, or heading without airspeed. One of them gives no wind at a single moment, but on different tracks
/// it does. Indicated airspeed, knots; true heading, unwrapped, degrees; NaN where not recorded.
/// </summary>
internal sealed record OneSidedAir(double[]? IndicatedAirspeedKt, double[]? HeadingTrueDeg)
{
    /// <summary>Neither.</summary>
    public static OneSidedAir None { get; } = new(null, null);

    /// <summary>Which is recorded; null where neither is.</summary>
    public AirEvidence? Evidence =>
        IndicatedAirspeedKt is not null ? AirEvidence.RecordedAirspeed
        : HeadingTrueDeg is not null ? AirEvidence.RecordedHeading
        : null;

    /// <summary>What a recording has of it; neither where it has both, or where too little of the flight has a value.</summary>
    /// <param name="motion">Smoothed motion.</param>
    /// <param name="track">Cleaned recording.</param>
    /// <param name="recorded">Its recorded columns, smoothed.</param>
    public static OneSidedAir Of(GroundMotion motion, CleanTrack track, RecordedAir recorded)
    {
        var source = track.Source;
        var air = (recorded.AirspeedKt, recorded.HeadingTrueDeg) switch
        {
            ({ } airspeedKt, null) => new OneSidedAir(Known(track, airspeedKt, source.IndicatedAirspeedKt, source.TrueAirspeedKt), null),
            (null, { } headingDeg) => new OneSidedAir(null, Known(track, headingDeg, source.HeadingMagDeg, source.HeadingTrueDeg)),
            _ => None,
        };
        var flying = Enumerable.Range(0, track.Count).Where(i => motion.GroundSpeedKt(i) > SensorModel.FlyingKt).ToList();
        return flying.Count(air.Has) >= WindModel.RecordedShare * flying.Count ? air : None;
    }

    /// <summary>Whether what is recorded has a value at a sample.</summary>
    /// <param name="i">Sample.</param>
    public bool Has(int i) =>
        (IndicatedAirspeedKt is null || IndicatedAirspeedKt[i] > SensorModel.TaxiKt)
        && (HeadingTrueDeg is null || double.IsFinite(HeadingTrueDeg[i]));

    /// <summary>Smoothed values near recorded ones: smoothing goes on where nothing was recorded.</summary>
    private static double[] Known(CleanTrack track, double[] smoothed, double[]? first, double[]? second)
    {
        var values = track.Column(first) ?? track.Column(second)!;
        double[] timeS = [.. track.TimeS.Where((_, i) => double.IsFinite(values[i]))];
        return [.. smoothed.Select((value, i) => IsNear(track.TimeS[i]) ? value : double.NaN)];

        bool IsNear(double atS)
        {
            var found = Array.BinarySearch(timeS, atS);
            var after = found >= 0 ? found : ~found;
            return (after < timeS.Length && timeS[after] - atS <= track.GapS) || (after > 0 && atS - timeS[after - 1] <= track.GapS);
        }
    }
}
