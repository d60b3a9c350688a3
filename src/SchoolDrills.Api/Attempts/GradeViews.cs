using SchoolDrills.Api.Access;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Attempts;

/// <summary>Grades as they are read. All take the grades of one attempt with their instructor and acknowledgement.</summary>
internal static class GradeViews
{
    /// <summary>What a person may see of them: a draft is the instructors' until it is signed.</summary>
    public static IReadOnlyList<Grade> SeenBy(CurrentPerson me, IEnumerable<Grade> grades) =>
        [.. grades.Where(g => me.IsStaff || g.SignedAtUtc is not null)];

    /// <summary>The grade as it stands, amended ones behind it, or null where there is none.</summary>
    public static GradeView? Of(IReadOnlyList<Grade> grades) =>
        grades.OrderByDescending(g => g.Number).Select(g => One(g)).ToList() is [var standing, .. var earlier]
            ? standing with
            {
                Earlier = earlier,
            }
            : null;

    /// <summary><c>none</c>, <c>draft</c>, <c>signed</c> or <c>acknowledged</c>.</summary>
    public static string State(IReadOnlyList<Grade> grades) =>
        grades.MaxBy(g => g.Number) switch
        {
            null => "none",
            { SignedAtUtc: null } => "draft",
            { Acknowledgement: null } => "signed",
            _ => "acknowledged",
        };

    private static GradeView One(Grade grade) =>
        new(
            grade.Id,
            grade.Overall,
            grade.Comment,
            grade.Segments,
            grade.InstructorId,
            grade.Instructor.DisplayName,
            grade.SavedAtUtc,
            grade.SignedAtUtc,
            grade.Acknowledgement?.AtUtc,
            grade.Acknowledgement?.Reply,
            grade.AmendmentReason,
            [],
            grade.Revision
        )
        {
            ReportId = grade.ReportId,
        };
}
