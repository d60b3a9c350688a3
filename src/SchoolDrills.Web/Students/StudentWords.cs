using SchoolDrills.Contracts;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Students;

/// <summary>Where a student stands, in words.</summary>
public static class StudentWords
{
    public static string Of(StudentNeed need) =>
        need switch
        {
            StudentNeed.Overdue => T["overdue | in a sentence"],
            StudentNeed.ToGrade => T["to grade | in a sentence"],
            StudentNeed.Stuck => T["stuck"],
            StudentNeed.Ready => T["ready to go on"],
            _ => T["nothing needed"],
        };

    /// <summary>Every reason to look at a student, the most pressing first; without one, what comes next.</summary>
    public static IReadOnlyList<string> Reasons(StudentStanding student, SchoolTime time)
    {
        var reasons = new List<string>();
        if (student.Overdue == 1)
            reasons.Add(T["1 drill {0}", time.Due(student.DueOn)]);
        else if (student.Overdue > 1)
            reasons.Add(T["{0} drills not flown, the oldest {1}", student.Overdue, time.Due(student.DueOn)]);
        if (student is { ToGrade: > 0, WaitingSinceUtc: { } since })
            reasons.Add(T["{0} to grade, since {1}", Figures.Count(student.ToGrade, "flight", "flights"), time.Day(since)]);
        if (student.Going is { } going)
            reasons.Add(going);
        if (student is { Overdue: 0, Open: > 0 })
            reasons.Add(T["{0} to fly, {1}", Figures.Count(student.Open, "drill", "drills"), time.Due(student.DueOn)]);
        else if (reasons.Count == 0)
            reasons.Add(T["nothing to fly"]);
        return reasons;
    }
}
