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
            DeskReason.ToGrade => T["To grade"],
            DeskReason.Unscorable => T["Recordings that could not be scored"],
            DeskReason.Overdue => T["Overdue"],
            _ => T["Due this week"],
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
            DeskReason.ToGrade => T["grade {0}", Name(row)],
            DeskReason.Unscorable => T[
                "see why {0}'s recording could not be scored: {1}",
                row.Attempt!.StudentName,
                row.Attempt.DrillTitle
            ],
            _ => T["fly {0} with {1}", row.Assignment!.DrillTitle, row.Assignment.StudentName],
        };

    /// <summary>How it went or when it is due.</summary>
    public static string State(DeskReason reason, DeskRow row, SchoolTime time) =>
        (reason, row.Attempt) switch
        {
            (DeskReason.ToGrade, { } a) => Waiting(a.UploadedAtUtc, time),
            (DeskReason.Unscorable, _) => T["needs another recording"],
            _ => time.Due(row.Assignment!.DueOn),
        };

    /// <summary>waiting 3 days; in whole days of the school's calendar, since the recording came in.</summary>
    public static string Waiting(DateTimeOffset since, SchoolTime time) =>
        (time.Today.DayNumber - time.DayOf(since).DayNumber) switch
        {
            <= 0 => T["came in today"],
            1 => T["waiting 1 day"],
            var days => T["waiting {0} days", Figures.Whole(days)],
        };

    /// <summary>What else there is to say of it, in the line below its name.</summary>
    public static string About(DeskReason reason, DeskRow row, SchoolTime time)
    {
        var instructor = row.Instructor is { } name ? T["assigned by {0}", name] : T["flown without an assignment"];
        return (reason, row) switch
        {
            (DeskReason.ToGrade, { Attempt: { } a }) => T[
                "{0}; flown {1}; {2}",
                WithDraft(a),
                time.DayAndClock(a.FlownAtUtc ?? a.UploadedAtUtc),
                instructor
            ],
            (DeskReason.Unscorable, { Attempt: { } a }) =>
                $"{a.Reason} {(row.Instructor is { } by ? T["Assigned by {0}.", by] : T["Flown without an assignment."])}",
            (_, { LastAttempt: { } last }) => T[
                "last time {0}, {1}; {2}",
                Result(last),
                time.Day(last.FlownAtUtc ?? last.UploadedAtUtc),
                instructor
            ],
            _ => T["not flown before; {0}", instructor],
        };
    }

    private static string WithDraft(AttemptSummary attempt) =>
        attempt.GradeState == "draft" ? T["draft grade; {0}", Result(attempt)] : Result(attempt);

    private static string Result(AttemptSummary attempt) =>
        T["{0}, {1} in tolerance", Labels.Of(attempt.Verdict ?? Engine.Scoring.Verdict.NotMeasured), Figures.Share(attempt.WithinShare)];
}
