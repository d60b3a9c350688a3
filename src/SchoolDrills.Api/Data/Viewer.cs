namespace SchoolDrills.Api.Data;

/// <summary>
/// How much of students' work is seen within a school. The database knows each by its word (db/policies/35-visibility.sql).
/// </summary>
internal enum Visibility
{
    /// <summary>No students' work at all; also the state of a connection that nobody has entered.</summary>
    None,

    /// <summary>A student: his own work.</summary>
    Self,

    /// <summary>An instructor where the school says so: the students he gave an assignment to.</summary>
    OwnStudents,

    /// <summary>Instructors elsewhere, and the chief.</summary>
    WholeSchool,

    /// <summary>Background jobs, which connect as a role of their own; for the role that serves requests it shows nothing.</summary>
    Jobs,
}

/// <summary>On whose behalf a request or job reads and writes. Made by the methods below, so that each case says what it may see.</summary>
internal sealed record Viewer
{
    /// <summary>Before anything is known: sees nothing but what the lookup functions answer.</summary>
    public static readonly Viewer Nobody = new(null, null, Visibility.None, null);

    private Viewer(Guid? schoolId, Guid? personId, Visibility visibility, IReadOnlyCollection<Guid>? students)
    {
        SchoolId = schoolId;
        PersonId = personId;
        Visibility = visibility;
        Students = students ?? [];
    }

    public Guid? SchoolId { get; }

    public Guid? PersonId { get; }

    public Visibility Visibility { get; }

    /// <summary>The students of <see cref="Visibility.OwnStudents"/>; empty otherwise.</summary>
    public IReadOnlyCollection<Guid> Students { get; }

    /// <summary>Somebody who is signing in, opens a link or founds a school: the school's people and settings, no students' work.</summary>
    public static Viewer SigningIn(Guid schoolId) => new(schoolId, null, Visibility.None, null);

    public static Viewer Student(Guid schoolId, Guid personId) => new(schoolId, personId, Visibility.Self, null);

    /// <param name="ownStudents">The only students seen; null where the school shows its instructors everybody's work.</param>
    public static Viewer Staff(Guid schoolId, Guid personId, IReadOnlyCollection<Guid>? ownStudents) =>
        new(schoolId, personId, ownStudents is null ? Visibility.WholeSchool : Visibility.OwnStudents, ownStudents);

    /// <summary>A background job, within one school or, before it knows which, within none.</summary>
    public static Viewer Job(Guid? schoolId = null) => new(schoolId, null, Visibility.Jobs, null);

    public bool MaySee(Guid studentId) =>
        Visibility switch
        {
            Visibility.Self => studentId == PersonId,
            Visibility.OwnStudents => studentId == PersonId || Students.Contains(studentId),
            Visibility.WholeSchool or Visibility.Jobs => true,
            _ => false,
        };
}
