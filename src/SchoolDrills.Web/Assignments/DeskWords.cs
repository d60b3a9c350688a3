using SchoolDrills.Contracts;
using SchoolDrills.Web.Layout;

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

/// <summary>What waits for an instructor, in words.</summary>
public static class DeskWords
{
    /// <summary>The lists that have something in them, the most pressing first.</summary>
    public static IReadOnlyList<(DeskReason Reason, DeskList List)> Lists(DeskWork work) =>
        [
            .. new[]
            {
                (DeskReason.ToGrade, work.ToGrade),
                (DeskReason.Unscorable, work.Unscorable),
                (DeskReason.Overdue, work.Overdue),
                (DeskReason.DueSoon, work.DueSoon),
            }.Where(l => l.Item2.Rows.Count > 0),
        ];

    public static string Title(DeskReason reason) =>
        reason switch
        {
            DeskReason.ToGrade => "To grade",
            DeskReason.Unscorable => "Recordings that could not be scored",
            DeskReason.Overdue => "Overdue",
            _ => "Due this week",
        };

    public static string Address(DeskRow row) =>
        row.Attempt is { } attempt ? $"/attempts/{attempt.AttemptId}" : $"/assignments/{row.Assignment!.Id}";

    /// <summary>Whose it is and which drill.</summary>
    public static string Name(DeskRow row) =>
        row.Attempt is { } attempt
            ? $"{attempt.StudentName}: {attempt.DrillTitle}"
            : $"{row.Assignment!.StudentName}: {row.Assignment.DrillTitle}";

    /// <summary>What is to be done, after "Next:".</summary>
    public static string ToDo(DeskReason reason, DeskRow row) =>
        reason switch
        {
            DeskReason.ToGrade => $"grade {Name(row)}",
            DeskReason.Unscorable => $"see why {row.Attempt!.StudentName}'s recording could not be scored: {row.Attempt.DrillTitle}",
            _ => $"fly {row.Assignment!.DrillTitle} with {row.Assignment.StudentName}",
        };

    /// <summary>How it went or when it is due.</summary>
    public static string State(DeskReason reason, DeskRow row, SchoolTime time) =>
        (reason, row.Attempt) switch
        {
            (DeskReason.ToGrade, { } a) => Waiting(a.UploadedAtUtc, time),
            (DeskReason.Unscorable, _) => "needs another recording",
            _ => time.Due(row.Assignment!.DueOn),
        };

    /// <summary>waiting 3 days; in whole days of the school's calendar, since the recording came in.</summary>
    public static string Waiting(DateTimeOffset since, SchoolTime time) =>
        (time.Today.DayNumber - time.DayOf(since).DayNumber) switch
        {
            <= 0 => "came in today",
            1 => "waiting 1 day",
            var days => $"waiting {Figures.Whole(days)} days",
        };

    /// <summary>What else there is to say of it, in the line below its name.</summary>
    public static string About(DeskReason reason, DeskRow row, SchoolTime time)
    {
        var instructor = row.Instructor is { } name ? $"assigned by {name}" : "flown without an assignment";
        return (reason, row) switch
        {
            (DeskReason.ToGrade, { Attempt: { } a }) =>
                $"{Draft(a)}{Result(a)}; flown {time.DayAndClock(a.FlownAtUtc ?? a.UploadedAtUtc)}; {instructor}",
            (DeskReason.Unscorable, { Attempt: { } a }) => $"{a.Reason} {char.ToUpperInvariant(instructor[0])}{instructor[1..]}.",
            (_, { LastAttempt: { } last }) => $"last time {Result(last)}, {time.Day(last.FlownAtUtc ?? last.UploadedAtUtc)}; {instructor}",
            _ => $"not flown before; {instructor}",
        };
    }

    private static string Draft(AttemptSummary attempt) => attempt.GradeState == "draft" ? "draft grade; " : "";

    private static string Result(AttemptSummary attempt) =>
        $"{Labels.Of(attempt.Verdict ?? Engine.Scoring.Verdict.NotMeasured)}, {Figures.Share(attempt.WithinShare)} in tolerance";
}
