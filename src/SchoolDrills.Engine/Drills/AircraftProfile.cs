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

    /// <summary>
    /// Best rate of climb by density altitude, from the type's handbook, lowest first; null where only the two figures above are known.
    /// </summary>
    public IReadOnlyList<ClimbRate>? ClimbTable { get; init; }

    /// <summary>
    /// Best rate of climb left at a density altitude, feet per minute: by the table where there is one, its outermost lines carried on;
    /// otherwise even between sea level and the service ceiling.
    /// </summary>
    /// <param name="densityAltitudeFt">Density altitude, feet.</param>
    public double ClimbFpmAt(double densityAltitudeFt)
    {
        if (ClimbTable is not { Count: > 1 } table)
            return SeaLevelClimbFpm - ((SeaLevelClimbFpm - 100) * densityAltitudeFt / ServiceCeilingFt);
        var above = 1;
        while (above < table.Count - 1 && table[above].DensityAltitudeFt < densityAltitudeFt)
            above++;
        var (low, high) = (table[above - 1], table[above]);
        var share = (densityAltitudeFt - low.DensityAltitudeFt) / (high.DensityAltitudeFt - low.DensityAltitudeFt);
        return low.ClimbFpm + (share * (high.ClimbFpm - low.ClimbFpm));
    }

    /// <summary>Problems of this profile, one sentence each; empty when it can be used.</summary>
    public IReadOnlyList<string> Problems() => [.. AircraftProblems.Of(this).Select(p => p.Sentence)];
}

/// <summary>A line of a climb table.</summary>
/// <param name="DensityAltitudeFt">Density altitude, feet.</param>
/// <param name="ClimbFpm">Best rate of climb there, feet per minute.</param>
public sealed record ClimbRate(double DensityAltitudeFt, double ClimbFpm);
