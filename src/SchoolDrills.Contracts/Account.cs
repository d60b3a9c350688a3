namespace SchoolDrills.Contracts;

/// <summary>Changes one's own password.</summary>
public sealed record ChangePassword(string Current, string New);

/// <summary>The password once more, before something that weakens the account.</summary>
public sealed record PasswordAgain(string Password);

/// <summary>The password of the session once more, with a code where the account asks for one.</summary>
/// <param name="Code">From the authenticator app, or a recovery code.</param>
public sealed record ConfirmPassword(string Password, string? Code = null);

/// <summary>A place where a person is signed in.</summary>
/// <param name="Ip">Address it was started from.</param>
/// <param name="UserAgent">What the program there calls itself.</param>
/// <param name="Current">Whether this very request came by it.</param>
public sealed record SessionSummary(
    Guid Id,
    DateTimeOffset StartedAtUtc,
    DateTimeOffset LastSeenAtUtc,
    DateTimeOffset ExpiresAtUtc,
    string? Ip,
    string? UserAgent,
    bool Current
);

/// <summary>A token for a program that calls the API on a person's behalf.</summary>
/// <param name="Scope"><c>read</c> or <c>write</c>.</param>
public sealed record ApiTokenSummary(
    Guid Id,
    string Name,
    string Scope,
    DateTimeOffset MadeAtUtc,
    DateTimeOffset ExpiresAtUtc,
    DateTimeOffset? LastUsedAtUtc
);

/// <summary>Makes a token.</summary>
/// <param name="Days">How long it works, 1 to 366.</param>
public sealed record CreateApiToken(string Name, string Scope, int Days);

/// <summary>A token, shown this once.</summary>
public sealed record ApiTokenMade(string Token, ApiTokenSummary Summary);

/// <summary>A second factor about to be set up: the key for the person's authenticator app.</summary>
/// <param name="Key">Base32.</param>
/// <param name="Uri">The same as an <c>otpauth</c> address, for a picture to scan.</param>
public sealed record SecondFactorKey(string Key, string Uri);

/// <summary>Six figures from the authenticator app.</summary>
public sealed record SecondFactorCode(string Code);

/// <summary>Codes that each stand in for the app once; shown this once.</summary>
public sealed record RecoveryCodes(IReadOnlyList<string> Codes);

/// <summary>One's own account.</summary>
/// <param name="RecoveryCodesLeft">How many of the recovery codes are unused.</param>
public sealed record AccountDetail(bool SecondFactor, int RecoveryCodesLeft)
{
    /// <summary>How often unread notices come by mail.</summary>
    public NoticeMail NoticeMail { get; init; }

    /// <summary>Whether this installation sends mail at all.</summary>
    public bool SendsMail { get; init; }
}

/// <summary>Changes one's own account.</summary>
/// <param name="NoticeMail">Stays as it is where none is sent.</param>
public sealed record SaveAccount(NoticeMail? NoticeMail = null);
