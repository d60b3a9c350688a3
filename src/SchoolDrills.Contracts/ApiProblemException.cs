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
    IReadOnlyList<HeaderColumn>? columns = null
) : Exception(detail ?? title ?? $"The server answered {(int)status}.")
{
    public HttpStatusCode Status { get; } = status;

    public string? Type { get; } = type;

    public string? Title { get; } = title;

    public IReadOnlyDictionary<string, string[]> Errors { get; } = errors ?? new Dictionary<string, string[]>();

    /// <summary>Of a CSV that could not be read: its columns, for a person to say what they are.</summary>
    public IReadOnlyList<HeaderColumn> Columns { get; } = columns ?? [];
}
