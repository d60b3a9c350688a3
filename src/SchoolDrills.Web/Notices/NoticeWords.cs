using SchoolDrills.Contracts;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Notices;

/// <summary>A notice as a sentence, and where it leads.</summary>
public static class NoticeWords
{
    public static string Of(NoticeSummary notice, SignedIn me) =>
        (notice.Kind, IsMine: notice.StudentId == me.Id) switch
        {
            (NoticeKind.Assigned, _) when notice.DueOn is { } due => T[
                "{0} is assigned to you, due {1}",
                notice.DrillTitle,
                me.Time.Day(due)
            ],
            (NoticeKind.Assigned, _) => T["{0} is assigned to you", notice.DrillTitle],
            (NoticeKind.Graded, _) => T["{0}: your flight was graded", notice.DrillTitle],
            (NoticeKind.Amended, _) => T["{0}: your grade was amended", notice.DrillTitle],
            (NoticeKind.Replied, _) => T["{0} replied to your grade of {1}", notice.Student, notice.DrillTitle],
            (NoticeKind.DueSoon, _) => T["{0} is due {1}", notice.DrillTitle, Due(notice, me)],
            (_, true) => T["{0} was due {1} and is not flown yet", notice.DrillTitle, Due(notice, me)],
            _ => T["{0} has not flown {1}, due {2}", notice.Student, notice.DrillTitle, Due(notice, me)],
        };

    public static string AddressOf(NoticeSummary notice) =>
        notice.AttemptId is { } attempt ? $"/attempts/{attempt}" : $"/assignments/{notice.AssignmentId}";

    private static string Due(NoticeSummary notice, SignedIn me) => notice.DueOn is { } due ? me.Time.Day(due) : "";
}
