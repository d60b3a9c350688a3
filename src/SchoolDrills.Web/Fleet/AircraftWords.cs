using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Fleet;

/// <summary>What uses an aircraft, and what changed between its versions, in words.</summary>
internal static class AircraftWords
{
    public static string InUse(AircraftVersion version)
    {
        (int Count, string One, string Many)[] counts =
        [
            (version.OpenAssignments, "open assignment", "open assignments"),
            (version.Attempts, "attempt", "attempts"),
        ];
        string[] uses = [.. counts.Where(u => u.Count > 0).Select(u => Figures.Count(u.Count, u.One, u.Many))];
        return uses.Length == 0 ? "Not in use" : "In use: " + string.Join(", ", uses);
    }

    public static IReadOnlyList<string> Changes(AircraftProfile earlier, AircraftProfile later)
    {
        (string What, double? Before, double? After, string Unit)[] figures =
        [
            ("lowest airspeed", earlier.LowestAirspeedKt, later.LowestAirspeedKt, "kt"),
            ("usual airspeed", earlier.DrillAirspeedKt, later.DrillAirspeedKt, "kt"),
            ("highest airspeed", earlier.HighestAirspeedKt, later.HighestAirspeedKt, "kt"),
            ("climb airspeed", earlier.ClimbAirspeedKt, later.ClimbAirspeedKt, "kt"),
            ("climb at sea level", earlier.SeaLevelClimbFpm, later.SeaLevelClimbFpm, "fpm"),
            ("service ceiling", earlier.ServiceCeilingFt, later.ServiceCeilingFt, "ft"),
            ("steepest bank", earlier.SteepestBankDeg, later.SteepestBankDeg, "deg"),
        ];
        var changes = figures
            .Where(f => f.Before != f.After)
            .Select(f => $"{f.What} {Figures.Quantity(f.After, f.Unit)} instead of {Figures.Quantity(f.Before, f.Unit)}")
            .ToList();
        if (!(earlier.ClimbTable ?? []).SequenceEqual(later.ClimbTable ?? []))
            changes.Add(later.ClimbTable is null ? "no climb table any more" : "another climb table");
        return changes.Count == 0 ? ["other words"] : changes;
    }
}
