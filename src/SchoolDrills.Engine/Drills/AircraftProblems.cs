using System.Globalization;

namespace SchoolDrills.Engine.Drills;

/// <summary>What keeps an aircraft profile from being planned with, field by field.</summary>
public static class AircraftProblems
{
    private const int MostRows = 20;

    /// <summary>The problems, in the order of the fields; empty when it can be used.</summary>
    /// <param name="profile">The profile.</param>
    public static IReadOnlyList<FieldProblem> Of(AircraftProfile profile)
    {
        var problems = new List<FieldProblem>();
        if (TemplateProblems.SlugProblem(profile.Slug) is { } slugProblem)
            problems.Add(new("slug", slugProblem));
        Words("title", "a title", profile.Title, TemplateLimits.NameLength);
        Words("basis", "a basis for its figures", profile.Basis, TemplateLimits.TextLength);
        OfSpeeds(profile, problems);
        if (!(profile.SeaLevelClimbFpm is > 100 and <= 10_000))
            problems.Add(new("seaLevelClimbFpm", "The rate of climb at sea level must be above 100 and at most 10000 fpm."));
        if (!(profile.ServiceCeilingFt is > 0 and <= 60_000))
            problems.Add(new("serviceCeilingFt", "The service ceiling must be above 0 and at most 60000 ft."));
        if (profile.SteepestBankDeg is { } bank && !(bank is > 0 and <= TemplateLimits.BankDeg))
        {
            problems.Add(
                new("steepestBankDeg", $"The steepest bank must be above 0 and at most {TemplateProblems.Text(TemplateLimits.BankDeg)}°.")
            );
        }

        if (profile.ClimbTable is { } table)
            OfTable(table, problems);
        return problems;

        void Words(string field, string what, string? text, int limit)
        {
            if (string.IsNullOrWhiteSpace(text))
                problems.Add(new(field, $"A profile needs {what}."));
            else if (TemplateProblems.TextProblem(text, limit) is { } problem)
                problems.Add(new(field, $"{char.ToUpperInvariant(what[0])}{what[1..]} {problem}."));
        }
    }

    private static void OfSpeeds(AircraftProfile profile, List<FieldProblem> problems)
    {
        var (lowest, highest) = (
            TemplateProblems.Text(TemplateLimits.LowestAirspeedKt),
            TemplateProblems.Text(TemplateLimits.HighestAirspeedKt)
        );
        if (!IsSpeed(profile.LowestAirspeedKt))
            problems.Add(new("lowestAirspeedKt", $"The lowest airspeed must be {lowest} to {highest} kt."));
        if (!IsSpeed(profile.HighestAirspeedKt) || profile.HighestAirspeedKt < profile.LowestAirspeedKt)
            problems.Add(new("highestAirspeedKt", $"The highest airspeed must be at least the lowest and at most {highest} kt."));
        if (!(profile.DrillAirspeedKt >= profile.LowestAirspeedKt && profile.DrillAirspeedKt <= profile.HighestAirspeedKt))
            problems.Add(new("drillAirspeedKt", "The airspeed for drills must lie between the lowest and the highest."));
        if (!IsSpeed(profile.ClimbAirspeedKt))
            problems.Add(new("climbAirspeedKt", $"The climb airspeed must be {lowest} to {highest} kt."));
    }

    private static void OfTable(IReadOnlyList<ClimbRate> table, List<FieldProblem> problems)
    {
        if (table.Count is < 2 or > MostRows || table.Any(r => r is null))
        {
            problems.Add(new("climbTable", $"A climb table has 2 to {MostRows} rows; leave it out where the handbook has none."));
            return;
        }

        foreach (var (i, row) in table.Index())
        {
            var at = string.Create(CultureInfo.InvariantCulture, $"climbTable[{i}]");
            if (!(row.DensityAltitudeFt is >= -2_000 and <= 60_000))
                problems.Add(new($"{at}.densityAltitudeFt", "The density altitude must be −2000 to 60000 ft."));
            else if (i > 0 && !(row.DensityAltitudeFt > table[i - 1].DensityAltitudeFt))
                problems.Add(new($"{at}.densityAltitudeFt", "The density altitudes must rise from row to row."));
            if (!(row.ClimbFpm is >= 0 and <= 10_000))
                problems.Add(new($"{at}.climbFpm", "The rate of climb must be 0 to 10000 fpm."));
            else if (i > 0 && !(row.ClimbFpm < table[i - 1].ClimbFpm))
                problems.Add(new($"{at}.climbFpm", "The rate of climb must fall from row to row."));
        }
    }

    private static bool IsSpeed(double kt) => kt is >= TemplateLimits.LowestAirspeedKt and <= TemplateLimits.HighestAirspeedKt;
}
