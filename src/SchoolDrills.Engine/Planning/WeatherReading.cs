namespace SchoolDrills.Engine.Planning;

/// <summary>Temperature at a height.</summary>
/// <param name="AltitudeFt">Altitude, feet.</param>
/// <param name="TemperatureC">Outside air temperature, Celsius.</param>
public sealed record TemperatureLevel(double AltitudeFt, double TemperatureC);

/// <summary>What was found in a pasted report or forecast, and what was not understood in it.</summary>
/// <param name="Winds">Wind by height, lowest first.</param>
/// <param name="Temperatures">Temperature by height, lowest first.</param>
/// <param name="QnhHpa">Altimeter setting, hPa; null where none was given.</param>
/// <param name="Taken">What was taken, one sentence each.</param>
/// <param name="NotUnderstood">What was not, with the words it is about, one sentence each.</param>
public sealed record WeatherReading(
    IReadOnlyList<WindLevel> Winds,
    IReadOnlyList<TemperatureLevel> Temperatures,
    double? QnhHpa,
    IReadOnlyList<string> Taken,
    IReadOnlyList<string> NotUnderstood
)
{
    /// <summary>Whether anything can be planned with.</summary>
    public bool Found => Winds.Count > 0 || Temperatures.Count > 0 || QnhHpa is not null;

    /// <summary>
    /// Temperature at an altitude, Celsius: even between two levels, by the standard lapse below the lowest and above the highest; null
    /// where no temperature was given.
    /// </summary>
    /// <param name="altitudeFt">Altitude, feet.</param>
    public double? OatCAt(double altitudeFt)
    {
        if (Temperatures.Count == 0)
            return null;
        var (below, above) = (
            Temperatures.LastOrDefault(t => t.AltitudeFt <= altitudeFt),
            Temperatures.FirstOrDefault(t => t.AltitudeFt > altitudeFt)
        );
        if (below is not null && above is not null)
        {
            var share = (altitudeFt - below.AltitudeFt) / (above.AltitudeFt - below.AltitudeFt);
            return below.TemperatureC + (share * (above.TemperatureC - below.TemperatureC));
        }

        var from = below ?? above!;
        return from.TemperatureC - (PlanModel.StandardLapseCPerFt * (altitudeFt - from.AltitudeFt));
    }
}
