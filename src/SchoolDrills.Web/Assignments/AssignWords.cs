using SchoolDrills.Contracts;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Assignments;

/// <summary>What was assigned, in words.</summary>
public static class AssignWords
{
    private const int NamesSaid = 6;

    /// <summary>Box circles and Racetrack assigned to Rewi Marsh, due Fri 6 Mar.</summary>
    public static string Made(IReadOnlyList<AssignmentSummary> made, SchoolTime time)
    {
        if (made.Count == 0)
            return T["Nothing was assigned."];
        // Drills that the same students got are said together.
        var parts = made.GroupBy(a => a.DrillTitle)
            .Select(g => (Drill: g.Key, Names: g.Select(a => a.StudentName).Order(StringComparer.Ordinal).ToList()))
            .GroupBy(d => string.Join('\n', d.Names))
            .Select(g => T["{0} assigned to {1}", Labels.Listed([.. g.Select(d => d.Drill)]), Named(g.First().Names)].Value);
        return $"{string.Join("; ", parts)}, {time.Due(made[0].DueOn)}.";
    }

    /// <summary>Not assigned again, as they have it to fly: Rewi Marsh (Racetrack, due tomorrow).</summary>
    public static string? Skipped(IReadOnlyList<AssignmentSummary> open, SchoolTime time)
    {
        if (open.Count == 0)
            return null;
        var said = open.Take(NamesSaid).Select(a => $"{a.StudentName} ({a.DrillTitle}, {time.Due(a.DueOn)})").ToList();
        if (open.Count > NamesSaid)
            said.Add(Figures.Count(open.Count - NamesSaid, "other", "others"));
        return T["Already assigned and not flown yet: {0}.", Labels.Listed(said)];
    }

    /// <summary>Already assigned, due Fri 6 Mar.</summary>
    public static string Already(AssignmentSummary open, SchoolTime time) => T["Already assigned, {0}", time.Due(open.DueOn)];

    /// <summary>An assignment's state as a word.</summary>
    public static string State(string state) =>
        state switch
        {
            "open" => T["to fly | of a drill"],
            "overdue" => T["overdue | in a sentence"],
            "flown" => T["flown | in a sentence"],
            "graded" => T["graded | in a sentence"],
            _ => T["withdrawn"],
        };

    private static string Named(List<string> names) =>
        Labels.Listed(
            names.Count <= NamesSaid ? names : [.. names.Take(NamesSaid - 1), Figures.Count(names.Count - NamesSaid + 1, "other", "others")]
        );
}
