namespace SchoolDrills.Contracts;

/// <summary>What waits for an instructor, the longest waiting first.</summary>
/// <param name="Mine">Of the students to whom the reader gave a drill; else of everybody the reader sees.</param>
/// <param name="ToGrade">Scored, and no grade signed; of several attempts for one assignment the newest.</param>
/// <param name="Unscorable">Recordings of the last 30 days that could not be scored, with none since for the same assignment.</param>
/// <param name="Overdue">Past their day with nothing flown.</param>
/// <param name="DueSoon">Due within a week, with nothing flown.</param>
/// <param name="Running">Uploaded and not scored yet.</param>
/// <param name="Graded">The newest few that were graded: by the reader, or at the school.</param>
/// <param name="Students">Active students.</param>
/// <param name="FlownThisMonth">Scored attempts flown at the school this month; for the chief alone.</param>
public sealed record DeskWork(
    bool Mine,
    DeskList ToGrade,
    DeskList Unscorable,
    DeskList Overdue,
    DeskList DueSoon,
    DeskList Running,
    IReadOnlyList<AttemptSummary> Graded,
    int Students,
    int? FlownThisMonth
);

/// <summary>The first rows of a list.</summary>
/// <param name="Total">How many there are in all.</param>
public sealed record DeskList(IReadOnlyList<DeskRow> Rows, int Total);

/// <summary>One thing that waits: an attempt, or an assignment that was not flown.</summary>
/// <param name="Instructor">Who assigned it; null for an attempt without an assignment.</param>
/// <param name="LastAttempt">Of an assignment: the student's newest scored attempt at the drill; null where there is none.</param>
public sealed record DeskRow(AttemptSummary? Attempt, AssignmentSummary? Assignment, string? Instructor, AttemptSummary? LastAttempt);
