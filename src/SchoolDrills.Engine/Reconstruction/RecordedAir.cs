using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Reconstruction;

/// <summary>Recorded heading, airspeed and bank, lightly smoothed; null where not recorded.</summary>
/// <param name="HeadingMagDeg">Magnetic heading, unwrapped through north, degrees.</param>
/// <param name="HeadingTrueDeg">True heading, degrees; null also without a declination.</param>
/// <param name="TurnRateDegPerS">Turn rate from the heading, degrees per second.</param>
/// <param name="AirspeedKt">Indicated airspeed, knots.</param>
/// <param name="TrueAirspeedKt">True airspeed, knots.</param>
/// <param name="BankDeg">Bank, degrees.</param>
public sealed record RecordedAir(
    double[]? HeadingMagDeg,
    double[]? HeadingTrueDeg,
    double[]? TurnRateDegPerS,
    double[]? AirspeedKt,
    double[]? TrueAirspeedKt,
    double[]? BankDeg
)
{
    /// <summary>The columns that the recording has.</summary>
    /// <param name="track">Cleaned recording.</param>
    /// <param name="vertical">Its altitude.</param>
    /// <param name="known">What is known about the day.</param>
    /// <param name="declinationDeg">Declination, degrees, east positive; NaN when not known.</param>
    public static RecordedAir From(CleanTrack track, VerticalMotion vertical, KnownConditions known, double declinationDeg)
    {
        var magnetic = track.Column(track.Source.HeadingMagDeg);
        var trueHeading = track.Column(track.Source.HeadingTrueDeg);
        if (magnetic is null && trueHeading is not null && double.IsFinite(declinationDeg))
        {
            magnetic = Array.ConvertAll(trueHeading, h => h - declinationDeg);
        }

        var heading = magnetic is null
            ? null
            : Smoother.Smooth(
                track.TimeS,
                Angles.UnwrapDeg(magnetic),
                SensorModel.HeadingNoiseDeg,
                SensorModel.HeadingJerkDegPerS3,
                track.GapS
            );
        var headingTrueDeg =
            heading is null || !double.IsFinite(declinationDeg) ? null : Array.ConvertAll(heading.Value, h => h + declinationDeg);

        var indicated = Smooth(track, track.Source.IndicatedAirspeedKt);
        var trueAirspeed = Smooth(track, track.Source.TrueAirspeedKt);
        if (indicated is null && trueAirspeed is not null)
            indicated = [.. trueAirspeed.Select((v, i) => vertical.IndicatedFromTrueKt(i, v, known))];
        if (trueAirspeed is null && indicated is not null)
            trueAirspeed = [.. indicated.Select((v, i) => vertical.TrueFromIndicatedKt(i, v, known))];
        return new RecordedAir(heading?.Value, headingTrueDeg, heading?.Rate, indicated, trueAirspeed, track.Column(track.Source.BankDeg));
    }

    private static double[]? Smooth(CleanTrack track, double[]? column) =>
        track.Column(column) is { } values
            ? Smoother.Smooth(track.TimeS, values, SensorModel.AirspeedNoiseKt, SensorModel.AirspeedJerkKtPerS3, track.GapS).Value
            : null;
}
