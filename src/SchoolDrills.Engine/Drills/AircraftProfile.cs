namespace SchoolDrills.Engine.Drills;

/// <summary>
/// Figures of an aeroplane type for planning. The figures are the school's, from the type's handbook and its own experience at
/// the loading it teaches at; the profiles that come with the engine are of invented types.
/// </summary>
public sealed record AircraftProfile
{
    /// <summary>Name in addresses, lower case with hyphens.</summary>
    public required string Slug { get; init; }

    /// <summary>Name the school uses.</summary>
    public required string Title { get; init; }

    /// <summary>Where the figures come from.</summary>
    public required string Basis { get; init; }

    /// <summary>Lowest calibrated airspeed to fly drills at, knots.</summary>
    public required double LowestAirspeedKt { get; init; }

    /// <summary>Highest calibrated airspeed to fly drills at, knots.</summary>
    public required double HighestAirspeedKt { get; init; }

    /// <summary>Usual calibrated airspeed for drills, knots.</summary>
    public required double DrillAirspeedKt { get; init; }

    /// <summary>Calibrated airspeed of best rate of climb, knots.</summary>
    public required double ClimbAirspeedKt { get; init; }

    /// <summary>Best rate of climb at sea level in the standard atmosphere, feet per minute.</summary>
    public required double SeaLevelClimbFpm { get; init; }

    /// <summary>Service ceiling, the density altitude at which 100 fpm are left, feet.</summary>
    public required double ServiceCeilingFt { get; init; }

    /// <summary>Steepest bank to fly drills at, degrees.</summary>
    public double? SteepestBankDeg { get; init; }

    /// <summary>Best rate of climb left at a density altitude, feet per minute: even between sea level and the service ceiling.</summary>
    /// <param name="densityAltitudeFt">Density altitude, feet.</param>
    public double ClimbFpmAt(double densityAltitudeFt) =>
        SeaLevelClimbFpm - ((SeaLevelClimbFpm - 100) * densityAltitudeFt / ServiceCeilingFt);

    /// <summary>Problems of this profile, one sentence each; empty when it can be used.</summary>
    public IReadOnlyList<string> Problems()
    {
        var problems = new List<string>();
        if (TemplateProblems.SlugProblem(Slug) is { } slugProblem)
            problems.Add(slugProblem);
        if (string.IsNullOrWhiteSpace(Title) || string.IsNullOrWhiteSpace(Basis))
            problems.Add("A profile needs a title and a basis for its figures.");
        if (
            !(
                LowestAirspeedKt >= TemplateLimits.LowestAirspeedKt
                && LowestAirspeedKt <= DrillAirspeedKt
                && DrillAirspeedKt <= HighestAirspeedKt
                && HighestAirspeedKt <= TemplateLimits.HighestAirspeedKt
            )
        )
        {
            problems.Add(
                "The airspeeds must rise from lowest through drill to highest, between "
                    + $"{TemplateProblems.Text(TemplateLimits.LowestAirspeedKt)} and "
                    + $"{TemplateProblems.Text(TemplateLimits.HighestAirspeedKt)} kt."
            );
        }

        if (!(ClimbAirspeedKt >= TemplateLimits.LowestAirspeedKt && ClimbAirspeedKt <= TemplateLimits.HighestAirspeedKt))
            problems.Add("The climb airspeed is out of range.");
        if (!(SeaLevelClimbFpm is > 100 and <= 10_000))
            problems.Add("The rate of climb at sea level must be above 100 and at most 10000 fpm.");
        if (!(ServiceCeilingFt is > 0 and <= 60_000))
            problems.Add("The service ceiling must be above 0 and at most 60000 ft.");
        if (SteepestBankDeg is { } bank && !(bank is > 0 and <= TemplateLimits.BankDeg))
            problems.Add($"The steepest bank must be above 0 and at most {TemplateProblems.Text(TemplateLimits.BankDeg)}°.");
        return problems;
    }
}
