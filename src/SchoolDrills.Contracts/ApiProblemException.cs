using System.Net;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Contracts;

/// <summary>The API refused. Carries the problem details (RFC 9457) it answered with.</summary>
public sealed class ApiProblemException(
    HttpStatusCode status,
    string? type,
    string? title,
    string? detail,
    IReadOnlyDictionary<string, string[]>? errors,
    IReadOnlyList<HeaderColumn>? columns = null,
    string? number = null
) : Exception(detail ?? title ?? $"The server answered {(int)status}.")
{
    /// <summary>Last part of the type of a refusal that the password, given again, turns into consent.</summary>
    public const string ConfirmPassword = "confirm-password";

    /// <summary>Last part of the type of a refusal that asks for a code of the authenticator app beside the password.</summary>
    public const string SecondFactor = "second-factor";

    /// <summary>Last part of the type of a refusal to save over a draft that somebody else saved, published or discarded.</summary>
    public const string DraftChanged = "draft-changed";

    /// <summary>Last part of the type of every refusal while the operator has the school suspended.</summary>
    public const string SchoolSuspended = "school-suspended";

    public HttpStatusCode Status { get; } = status;

    public string? Type { get; } = type;

    /// <summary>Whether the type is the one that ends so; the address before it is nobody's concern.</summary>
    public bool Is(string type) => Type?.EndsWith('/' + type, StringComparison.Ordinal) is true;

    public string? Title { get; } = title;

    public IReadOnlyDictionary<string, string[]> Errors { get; } = errors ?? new Dictionary<string, string[]>();

    /// <summary>Number of the request, as <c>X-Request-Id</c> has it and the server's log; for a person to quote.</summary>
    public string? Number { get; } = number;

    /// <summary>Of a CSV that could not be read: its columns, for a person to say what they are.</summary>
    public IReadOnlyList<HeaderColumn> Columns { get; } = columns ?? [];
}
