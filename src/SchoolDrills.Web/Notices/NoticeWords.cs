using SchoolDrills.Contracts;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Notices;

/// <summary>A notice as a sentence, and where it leads.</summary>
public static class NoticeWords
{
    public static string Of(NoticeSummary notice, SignedIn me) =>
        (notice.Kind, IsMine: notice.StudentId == me.Id) switch
        {
            (NoticeKind.Assigned, _) when notice.DueOn is { } due => $"{notice.DrillTitle} is assigned to you, due {me.Time.Day(due)}",
            (NoticeKind.Assigned, _) => $"{notice.DrillTitle} is assigned to you",
            (NoticeKind.Graded, _) => $"{notice.DrillTitle}: your flight was graded",
            (NoticeKind.Amended, _) => $"{notice.DrillTitle}: your grade was amended",
            (NoticeKind.Replied, _) => $"{notice.Student} replied to your grade of {notice.DrillTitle}",
            (NoticeKind.DueSoon, _) => $"{notice.DrillTitle} is due {Due(notice, me)}",
            (_, true) => $"{notice.DrillTitle} was due {Due(notice, me)} and is not flown yet",
            _ => $"{notice.Student} has not flown {notice.DrillTitle}, due {Due(notice, me)}",
        };

    public static string AddressOf(NoticeSummary notice) =>
        notice.AttemptId is { } attempt ? $"/attempts/{attempt}" : $"/assignments/{notice.AssignmentId}";

    private static string Due(NoticeSummary notice, SignedIn me) => notice.DueOn is { } due ? me.Time.Day(due) : "";
}
