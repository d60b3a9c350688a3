using SchoolDrills.Contracts;
namespace SchoolDrills.Api.Attempts;
internal static class GradeViews { public static GradeView? Of(IReadOnlyList<Grade> g) => null; }
