namespace SchoolDrills.Api.Data;

/// <summary>
/// On whose behalf the database connections of one request or job work. Rows that the viewer may not see are invisible to them, to
/// raw SQL as well; before <see cref="Enter"/> nothing is visible.
/// </summary>
/// <remarks>
/// The school is not known before sign-in, so sign-in asks <c>lookup.person_by_email(@normalizedEmail)</c> for it and enters it as
/// <see cref="Viewer.SigningIn"/>. Later requests carry the keys of school and session in their token or cookie. Jobs take the school
/// as an argument. Across schools there are only the functions of db/policies/30-lookup.sql, which answer with keys or numbers.
/// </remarks>
internal sealed class SchoolScope
{
    public Viewer Viewer { get; private set; } = Viewer.Nobody;

    /// <summary>Where the request comes from, for the audit trail.</summary>
    public (string? Ip, string? UserAgent) From { get; set; }

    /// <summary>
    /// Replaces the viewer as a whole, from the next connection that is opened: call it before a transaction, not within.
    /// </summary>
    public void Enter(Viewer viewer) => Viewer = viewer;
}
