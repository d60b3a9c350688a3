using System.Text.Json.Serialization;

namespace SchoolDrills.Contracts;

/// <summary>What a notice tells.</summary>
[JsonConverter(typeof(Engine.KebabCase<NoticeKind>))]
public enum NoticeKind
{
    /// <summary>The student: there is a drill to fly.</summary>
    Assigned,

    /// <summary>The student: a flight was graded.</summary>
    Graded,

    /// <summary>The student: a grade was amended.</summary>
    Amended,

    /// <summary>The instructor who signed the grade: the student replied to it.</summary>
    Replied,

    /// <summary>The student: work is due soon.</summary>
    DueSoon,

    /// <summary>The student and the instructor who assigned it: work is overdue.</summary>
    Overdue,
}

/// <summary>Something a person is told.</summary>
/// <param name="StudentId">The student whose work it is about; oneself, for a student.</param>
/// <param name="AssignmentId">The work to fly, of <c>assigned</c>, <c>due-soon</c> and <c>overdue</c>.</param>
/// <param name="AttemptId">The flight, of <c>graded</c>, <c>amended</c> and <c>replied</c>.</param>
public sealed record NoticeSummary(
    Guid Id,
    NoticeKind Kind,
    string DrillTitle,
    Guid StudentId,
    string Student,
    Guid? AssignmentId,
    Guid? AttemptId,
    DateOnly? DueOn,
    DateTimeOffset MadeAtUtc,
    bool Read
);

/// <summary>A page of one's notices.</summary>
/// <param name="Total">How many there are on all pages.</param>
/// <param name="Unread">How many are unread, on whatever page.</param>
public sealed record NoticePage(IReadOnlyList<NoticeSummary> Items, int Page, int PageSize, int Total, int Unread);

/// <summary>How many of one's notices are unread.</summary>
public sealed record NoticeCount(int Unread);

/// <summary>Marks notices as read.</summary>
/// <param name="Ids">Those named; others' and unknown ones are passed over.</param>
/// <param name="All">All that are there.</param>
public sealed record ReadNotices(IReadOnlyList<Guid>? Ids = null, bool All = false);

/// <summary>How often unread notices come by mail.</summary>
[JsonConverter(typeof(Engine.KebabCase<NoticeMail>))]
public enum NoticeMail
{
    /// <summary>Never.</summary>
    None,

    /// <summary>Once a day, where something is unread that no mail has told.</summary>
    Daily,
}
