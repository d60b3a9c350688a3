using System.Globalization;

namespace SchoolDrills.Engine.Planning;

/// <summary>Gathers what is found in a text; refuses what no plan can be made with.</summary>
internal sealed class WeatherFound(double? aerodromeFt)
{
    private readonly List<WindLevel> winds = [];
    private readonly List<TemperatureLevel> temperatures = [];
    private readonly List<string> taken = [];
    private readonly List<string> problems = [];
    private double? qnhHpa;

    public bool Any => winds.Count > 0 || temperatures.Count > 0 || qnhHpa is not null;

    /// <summary>Height for what a report gives at its aerodrome; sea level where it is not known.</summary>
    public double AerodromeFt => aerodromeFt ?? 0;

    /// <summary>What is to be said of that height.</summary>
    public string AerodromeWords => aerodromeFt is null ? ", put at sea level as the height of the aerodrome is not given" : "";

    public static string Text(double value) => value.ToString("#,0.#", CultureInfo.InvariantCulture);

    public void Problem(string sentence)
    {
        if (problems.Count < 40)
            problems.Add(sentence);
    }

    public void Took(string sentence) => taken.Add(sentence);

    /// <summary>A wind; false, with a problem said, where it cannot be one.</summary>
    public bool Wind(string words, double altitudeFt, double fromDegTrue, double speedKt, string? note = null)
    {
        if (altitudeFt is < PlanModel.LowestWindFt or > PlanModel.HighestWindFt)
            return Refuse($"'{words}': {Text(altitudeFt)} ft is no height to plan for.");
        if (fromDegTrue is < 0 or > 360)
            return Refuse($"'{words}': {Text(fromDegTrue)} is no direction; it goes to 360.");
        if (speedKt is < 0 or > PlanModel.StrongestWindKt)
            return Refuse($"'{words}': {Text(speedKt)} kt is more than the {PlanModel.StrongestWindKt} kt that can be planned with.");
        if (winds.Exists(w => w.AltitudeFt == altitudeFt))
            return Refuse($"'{words}': there is a wind at {Text(altitudeFt)} ft already; the first counts.");
        if (winds.Count == PlanModel.MostWinds)
            return Refuse($"'{words}': {PlanModel.MostWinds} winds are the most.");
        winds.Add(new(altitudeFt, fromDegTrue, Math.Round(speedKt, 1)));
        var wind = speedKt == 0 ? "calm" : $"{fromDegTrue.ToString("000", CultureInfo.InvariantCulture)}° {Text(speedKt)} kt";
        Took($"Wind at {Text(altitudeFt)} ft: {wind}{note}.");
        return true;
    }

    public bool Temperature(string words, double altitudeFt, double temperatureC, string? note = null)
    {
        if (temperatureC is < PlanModel.LowestReportedC or > PlanModel.HighestReportedC)
            return Refuse($"'{words}': {Text(temperatureC)} °C is no air temperature.");
        if (temperatures.Exists(t => t.AltitudeFt == altitudeFt))
            return Refuse($"'{words}': there is a temperature at {Text(altitudeFt)} ft already; the first counts.");
        temperatures.Add(new(altitudeFt, temperatureC));
        Took($"Temperature at {Text(altitudeFt)} ft: {Text(temperatureC).Replace('-', '−')} °C{note}.");
        return true;
    }

    public void Qnh(string words, double hPa)
    {
        if (hPa is < PlanModel.LowestQnhHpa or > PlanModel.HighestQnhHpa)
        {
            Problem($"'{words}': {Text(hPa)} hPa is no altimeter setting; it is {PlanModel.LowestQnhHpa} to {PlanModel.HighestQnhHpa}.");
        }
        else if (qnhHpa is null)
        {
            qnhHpa = Math.Round(hPa, 1);
            Took($"QNH {qnhHpa.Value.ToString("0.#", CultureInfo.InvariantCulture)} hPa.");
        }
    }

    public WeatherReading Reading() =>
        new([.. winds.OrderBy(w => w.AltitudeFt)], [.. temperatures.OrderBy(t => t.AltitudeFt)], qnhHpa, taken, problems);

    private bool Refuse(string sentence)
    {
        Problem(sentence);
        return false;
    }
}
