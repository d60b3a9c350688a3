namespace SchoolDrills.Api.Data;

/// <summary>
/// Whose rows the database connections of one request or job may see. Everything else is invisible to them, raw SQL
/// included; nothing is visible before <see cref="Enter"/>.
/// </summary>
/// <remarks>
/// How a person comes in: the school is not known before sign-in, so sign-in alone asks
/// <c>select id, school_id from lookup.person_by_email(@normalizedEmail)</c>, enters that school and goes on behind
/// its wall (so does <c>UserManager</c> then). Later requests carry school and person as claims of their token or
/// cookie; they enter before the first query. Jobs take both as arguments. Across schools there are only
/// <c>lookup.school_ids()</c> and, for jobs, <c>lookup.unscored_attempts()</c> → (attempt_id, school_id).
/// </remarks>
internal sealed class SchoolScope
{
    public Guid? SchoolId { get; private set; }

    public Guid? PersonId { get; private set; }

    /// <summary>How much of the school: <c>self</c> for students, <c>own-students</c> for instructors where the school says so, else <c>school</c>.</summary>
    public string Sight { get; private set; } = "school";

    /// <summary>Where the deed comes from, for the audit trail.</summary>
    public (string? Ip, string? UserAgent) From { get; set; }

    /// <summary>Whether connections are made as the role for jobs, which has no sight of passwords.</summary>
    public bool IsJob { get; private set; }

    /// <summary>Takes effect with the next connection that is opened: call it before a transaction, not within.</summary>
    public void Enter(Guid schoolId, Guid? personId)
    {
        SchoolId = schoolId;
        PersonId = personId;
    }

    /// <summary>Narrows what is seen within the school; as <see cref="Enter"/>, with the next connection.</summary>
    public void Narrow(string sight) => Sight = sight;

    /// <summary>Marks the scope of a job, before its first connection.</summary>
    public void ActAsJob() => IsJob = true;
}
