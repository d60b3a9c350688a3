namespace SchoolDrills.Contracts;

/// <summary>A person of the school.</summary>
/// <param name="State"><c>invited</c> (has not chosen a password yet), <c>active</c>, <c>closed</c>, <c>erased</c>.</param>
/// <param name="SecondFactor">Whether signing in takes a code as well; for the chief only.</param>
/// <param name="LegalHold">Whether nothing of this person may be erased; for the chief only.</param>
public sealed record PersonSummary(
    Guid Id,
    string DisplayName,
    string Email,
    IReadOnlyList<string> Roles,
    bool Active,
    string State = "active",
    bool SecondFactor = false,
    bool LegalHold = false
)
{
    /// <summary>When the newest session was started; null where nobody signed in yet, and for others than the chief.</summary>
    public DateTimeOffset? SignedInAtUtc { get; init; }
}

/// <summary>Invites a person to the school.</summary>
public sealed record InvitePerson(string DisplayName, string Email, IReadOnlyList<string> Roles);

/// <summary>Invites people to the school, all of them or none.</summary>
/// <param name="People">At most <see cref="InvitationList.Most"/>.</param>
public sealed record InvitePeople(IReadOnlyList<InvitePerson> People);

/// <summary>A person's name and roles, as the chief sets them.</summary>
public sealed record EditPerson(string DisplayName, IReadOnlyList<string> Roles);

/// <summary>A link that lets a person choose a password. It is shown once and works once.</summary>
/// <param name="Path">Path on this site, to be put behind its address.</param>
/// <param name="Mailed">Whether it was handed to the mail server as well.</param>
public sealed record PersonLink(PersonSummary Person, string Path, DateTimeOffset ExpiresAtUtc, bool Mailed);

/// <summary>The secret part of a link.</summary>
public sealed record LinkToken(string Token);

/// <summary>What a link is for.</summary>
/// <param name="Kind"><c>invite</c> or <c>reset</c>.</param>
public sealed record LinkDetail(string Kind, string DisplayName, string Email, string SchoolName, DateTimeOffset ExpiresAtUtc);

/// <summary>Uses a link: the password chosen with it.</summary>
public sealed record AcceptLink(string Token, string Password);

/// <summary>Asks for a link by mail.</summary>
public sealed record ForgotPassword(string Email);
