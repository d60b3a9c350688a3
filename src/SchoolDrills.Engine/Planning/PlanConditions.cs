namespace SchoolDrills.Engine.Planning;

/// <summary>Weather and place for which a drill is planned.</summary>
/// <param name="QnhHpa">Altimeter setting, hPa.</param>
/// <param name="OatC">Outside air temperature at the entry altitude, Celsius; null for the standard atmosphere.</param>
/// <param name="Winds">Wind by height; null or empty for still air.</param>
/// <param name="DeclinationDeg">Magnetic declination, degrees, east positive.</param>
/// <param name="Area">Corners of the practice area; null or empty for none.</param>
/// <param name="Start">Planned start of the drill; null to let the plan choose.</param>
/// <param name="FloorFt">Lowest indicated altitude to fly at, feet; null for none.</param>
/// <param name="CeilingFt">Highest indicated altitude to fly at, feet; null for none.</param>
/// <param name="Suggest">
/// Whether a start is looked for in the area; without, a plan of a given start is made in a moment, however often it is moved.
/// </param>
public sealed record PlanConditions(
    double QnhHpa = Flight.Atmosphere.StandardPressureHpa,
    double? OatC = null,
    IReadOnlyList<WindLevel>? Winds = null,
    double DeclinationDeg = 0,
    IReadOnlyList<LatLon>? Area = null,
    LatLon? Start = null,
    double? FloorFt = null,
    double? CeilingFt = null,
    bool Suggest = true
)
{
    /// <summary>Problems of these conditions, one sentence each; empty when a plan can be made.</summary>
    public IReadOnlyList<string> Problems()
    {
        var problems = new List<string>();
        if (!(QnhHpa is >= PlanModel.LowestQnhHpa and <= PlanModel.HighestQnhHpa))
            problems.Add("The altimeter setting must be 870 to 1085 hPa.");
        if (OatC is { } oat && !(oat is >= PlanModel.LowestOatC and <= PlanModel.HighestOatC))
            problems.Add("The air temperature must be -70 to 55 °C.");
        if (!(Math.Abs(DeclinationDeg) <= 180))
            problems.Add("The declination must be -180 to 180 degrees.");
        if (FloorFt is { } floor && !double.IsFinite(floor))
            problems.Add("The floor must be an altitude in feet.");
        if (CeilingFt is { } ceiling && !(double.IsFinite(ceiling) && (FloorFt is null || ceiling > FloorFt)))
            problems.Add("The ceiling must be an altitude in feet above the floor.");
        if (Start is { } start && !(Math.Abs(start.LatDeg) <= 89 && Math.Abs(start.LonDeg) <= 180))
            problems.Add("The start is not a latitude and a longitude.");
        if (Winds?.Count > PlanModel.MostWinds)
            problems.Add("At most 50 winds can be given.");
        foreach (var wind in Winds ?? [])
        {
            if (
                !(
                    wind.SpeedKt is >= 0 and <= PlanModel.StrongestWindKt
                    && wind.FromDegTrue is >= 0 and <= 360
                    && double.IsFinite(wind.AltitudeFt)
                )
            )
            {
                problems.Add("Each wind must come from 0 to 360 degrees true with 0 to 150 kt at an altitude in feet.");
            }
        }

        if (Area is { Count: > 0 } && PracticeArea.From(Area).Problem is { } problem)
            problems.Add(problem);
        return problems;
    }
}
