namespace SchoolDrills.Contracts;

/// <summary>Signs a person in.</summary>
/// <param name="SchoolId">Which school, where address and password open several.</param>
/// <param name="Code">From the authenticator app, or a recovery code, where the account asks for one.</param>
public sealed record SignIn(string Email, string Password, Guid? SchoolId = null, string? Code = null);

/// <summary>A school that a person can be signed in to.</summary>
public sealed record SchoolChoice(Guid Id, string Name, bool Current = false);

/// <summary>Goes over to another school that address and password opened at sign-in.</summary>
/// <param name="Code">Where the account there asks for one.</param>
public sealed record SwitchSchool(Guid SchoolId, string? Code = null);

/// <summary>
/// Makes the first school and its chief instructor; the token is in a link that the server prints, and works once.
/// </summary>
/// <param name="TimeZone">IANA name of the school's zone.</param>
public sealed record FirstRun(string Token, string SchoolName, string TimeZone, string DisplayName, string Email, string Password);

/// <summary>Renews a session.</summary>
public sealed record RefreshSession(string RefreshToken);

/// <summary>Tokens of a session. The access token goes into <c>Authorization: Bearer</c>.</summary>
public sealed record SessionTokens(string AccessToken, DateTimeOffset ExpiresAtUtc, string RefreshToken);

/// <summary>The signed-in person.</summary>
public sealed record Me(Guid Id, string DisplayName, string Email, IReadOnlyList<string> Roles, SchoolSummary School);

/// <summary>The school a person is signed in to.</summary>
public sealed record SchoolSummary(Guid Id, string Name, string TimeZone, IReadOnlyList<GradeWord> GradeScale)
{
    /// <summary>Days from today to the due day of a drill assigned in one go.</summary>
    public int DueInDays { get; init; } = 7;

    /// <summary>Instructors may draft drills, as the chief does.</summary>
    public bool InstructorsDraft { get; init; }

    /// <summary>How the school grades.</summary>
    public GradingSettings Grading
    {
        get;
        init => field = value ?? new();
    } = new();
}

/// <summary>One word of the school's grading scale.</summary>
/// <param name="Slug">What is sent and stored.</param>
/// <param name="Word">What is read.</param>
/// <param name="Order">From 1, the lowest, upward.</param>
/// <param name="Retired">Stands on grades given, and is given no more.</param>
public sealed record GradeWord(string Slug, string Word, int Order, bool Retired = false);

/// <summary>The three roles, as they stand on the wire.</summary>
public static class Roles
{
    public const string Chief = "chief";
    public const string Instructor = "instructor";
    public const string Student = "student";
}
