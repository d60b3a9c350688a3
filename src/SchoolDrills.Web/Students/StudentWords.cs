using SchoolDrills.Contracts;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Students;

/// <summary>Where a student stands, in words.</summary>
public static class StudentWords
{
    public static string Of(StudentNeed need) =>
        need switch
        {
            StudentNeed.Overdue => "overdue",
            StudentNeed.ToGrade => "to grade",
            StudentNeed.Stuck => "stuck",
            StudentNeed.Ready => "ready to go on",
            _ => "nothing needed",
        };

    /// <summary>Every reason to look at a student, the most pressing first; without one, what comes next.</summary>
    public static IReadOnlyList<string> Reasons(StudentStanding student, SchoolTime time)
    {
        var reasons = new List<string>();
        if (student.Overdue == 1)
            reasons.Add($"1 drill {time.Due(student.DueOn)}");
        else if (student.Overdue > 1)
            reasons.Add($"{student.Overdue} drills not flown, the oldest {time.Due(student.DueOn)}");
        if (student is { ToGrade: > 0, WaitingSinceUtc: { } since })
            reasons.Add($"{Figures.Count(student.ToGrade, "flight", "flights")} to grade, since {time.Day(since)}");
        if (student.Going is { } going)
            reasons.Add(going);
        if (student is { Overdue: 0, Open: > 0 })
            reasons.Add($"{Figures.Count(student.Open, "drill", "drills")} to fly, {time.Due(student.DueOn)}");
        else if (reasons.Count == 0)
            reasons.Add("nothing to fly");
        return reasons;
    }
}
