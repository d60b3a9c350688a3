using SchoolDrills.Contracts;

namespace SchoolDrills.Web.Assignments;

/// <summary>A student's assignments in the order in which they are flown.</summary>
public static class AssignmentOrder
{
    /// <summary>What is still to fly: by due date, the undated last, the earlier assigned first among equals.</summary>
    public static IReadOnlyList<AssignmentSummary> ToFly(IEnumerable<AssignmentSummary> assignments) =>
        [.. assignments.Where(a => a.State is "open" or "overdue").OrderBy(a => a.DueOn ?? DateOnly.MaxValue).ThenBy(a => a.AssignedAtUtc)];

    /// <summary>What has been flown or graded: the newest first.</summary>
    public static IReadOnlyList<AssignmentSummary> Flown(IEnumerable<AssignmentSummary> assignments) =>
        [
            .. assignments
                .Where(a => a.State is "flown" or "graded")
                .OrderByDescending(a => a.LatestAttempt?.UploadedAtUtc ?? a.AssignedAtUtc),
        ];
}
