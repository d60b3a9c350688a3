using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Fleet;

/// <summary>What uses an aircraft, and what changed between its versions, in words.</summary>
internal static class AircraftWords
{
    public static string InUse(AircraftVersion version)
    {
        (int Count, string Counted)[] counts =
        [
            (version.OpenAssignments, Figures.Count(version.OpenAssignments, "open assignment", "open assignments")),
            (version.Attempts, Figures.Count(version.Attempts, "attempt", "attempts")),
        ];
        string[] uses = [.. counts.Where(u => u.Count > 0).Select(u => u.Counted)];
        return uses.Length == 0 ? T["Not in use | alone, as a sentence"] : T["In use: {0}", string.Join(", ", uses)];
    }

    public static IReadOnlyList<string> Changes(AircraftProfile earlier, AircraftProfile later)
    {
        (string What, double? Before, double? After, string Unit)[] figures =
        [
            (T["lowest airspeed"], earlier.LowestAirspeedKt, later.LowestAirspeedKt, "kt"),
            (T["usual airspeed"], earlier.DrillAirspeedKt, later.DrillAirspeedKt, "kt"),
            (T["highest airspeed"], earlier.HighestAirspeedKt, later.HighestAirspeedKt, "kt"),
            (T["climb airspeed"], earlier.ClimbAirspeedKt, later.ClimbAirspeedKt, "kt"),
            (T["climb at sea level"], earlier.SeaLevelClimbFpm, later.SeaLevelClimbFpm, "fpm"),
            (T["service ceiling"], earlier.ServiceCeilingFt, later.ServiceCeilingFt, "ft"),
            (T["steepest bank"], earlier.SteepestBankDeg, later.SteepestBankDeg, "deg"),
        ];
        var changes = figures
            .Where(f => f.Before != f.After)
            .Select(f => T["{0} {1} instead of {2}", f.What, Figures.Quantity(f.After, f.Unit), Figures.Quantity(f.Before, f.Unit)].Value)
            .ToList();
        if (!(earlier.ClimbTable ?? []).SequenceEqual(later.ClimbTable ?? []))
            changes.Add(later.ClimbTable is null ? T["no climb table any more"] : T["another climb table"]);
        return changes.Count == 0 ? [T["other words"]] : changes;
    }
}
