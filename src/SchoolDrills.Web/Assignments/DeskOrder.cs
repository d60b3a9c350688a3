using SchoolDrills.Contracts;

namespace SchoolDrills.Web.Assignments;

/// <summary>Why something lies on the desk, in the order in which it is taken up.</summary>
public enum DeskReason
{
    /// <summary>Scored and not signed.</summary>
    ToGrade,

    /// <summary>A recording that could not be scored.</summary>
    Unscorable,

    /// <summary>Past its due date with nothing flown.</summary>
    Overdue,

    /// <summary>Due within a week.</summary>
    DueSoon,
}

/// <summary>One thing that waits for an instructor.</summary>
public sealed record DeskItem(DeskReason Reason, AttemptSummary? Attempt, AssignmentSummary? Assignment)
{
    public string StudentName => Attempt?.StudentName ?? Assignment!.StudentName;

    public Guid StudentId => Attempt?.StudentId ?? Assignment!.StudentId;

    public string DrillTitle => Attempt?.DrillTitle ?? Assignment!.DrillTitle;

    public string Address => Attempt is { } attempt ? $"/attempts/{attempt.AttemptId}" : $"/assignments/{Assignment!.Id}";
}

/// <summary>What waits for an instructor, the most pressing first.</summary>
public static class DeskOrder
{
    private const int SoonDays = 7;

    /// <summary>What is to be done, after "Next:".</summary>
    public static string ToDo(DeskItem item) =>
        item.Reason switch
        {
            DeskReason.ToGrade => $"grade {item.StudentName}: {item.DrillTitle}",
            DeskReason.Unscorable => $"see why {item.StudentName}'s recording could not be scored: {item.DrillTitle}",
            _ => $"fly {item.DrillTitle} with {item.StudentName}",
        };

    /// <param name="attempts">Attempts, in any order; of several for one assignment only the newest counts.</param>
    public static IReadOnlyList<DeskItem> Of(
        IEnumerable<AssignmentSummary> assignments,
        IEnumerable<AttemptSummary> attempts,
        DateOnly today
    )
    {
        var known = assignments.Where(a => a.State != "cancelled").ToList();
        var newest = attempts
            .Concat(known.Select(a => a.LatestAttempt).OfType<AttemptSummary>())
            .GroupBy(a => a.AssignmentId ?? a.AttemptId)
            .Select(g => g.MaxBy(a => a.UploadedAtUtc)!)
            .ToList();

        var toGrade = newest
            .Where(a => a.Status == AttemptStatus.Scored && (a.GradeState is "none" or "draft"))
            .OrderBy(a => a.UploadedAtUtc)
            .Select(a => new DeskItem(DeskReason.ToGrade, a, null));
        var unscorable = newest
            .Where(a => a.Status == AttemptStatus.Unscorable)
            .OrderBy(a => a.UploadedAtUtc)
            .Select(a => new DeskItem(DeskReason.Unscorable, a, null));
        var waiting = known
            .Where(a => (a.State is "open" or "overdue") && a.DueOn is not null && a.LatestAttempt is null)
            .OrderBy(a => a.DueOn)
            .ToList();
        var overdue = waiting.Where(a => a.DueOn < today).Select(a => new DeskItem(DeskReason.Overdue, null, a));
        var soon = waiting
            .Where(a => a.DueOn >= today && a.DueOn <= today.AddDays(SoonDays))
            .Select(a => new DeskItem(DeskReason.DueSoon, null, a));
        return [.. toGrade, .. unscorable, .. overdue, .. soon];
    }
}
