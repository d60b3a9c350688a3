using SchoolDrills.Api.Data;

namespace SchoolDrills.Api.Access;

internal static class VisibleWork
{
    /// <summary>
    /// Those that the person may see. Every query for an id or a list that a request names goes through it; the database holds the
    /// same rule (db/policies/35-visibility.sql), for the query that forgets.
    /// </summary>
    public static IQueryable<T> VisibleTo<T>(this IQueryable<T> work, CurrentPerson me)
        where T : class, IStudentWork
    {
        var viewer = me.Viewer;
        var id = me.Id;
        switch (viewer.Visibility)
        {
            case Visibility.Self:
                return work.Where(w => w.StudentId == id);
            case Visibility.OwnStudents:
                Guid[] students = [.. viewer.Students, id];
                return work.Where(w => students.Contains(w.StudentId));
            case Visibility.WholeSchool:
                return work;
            default:
                return work.Where(w => false);
        }
    }
}
