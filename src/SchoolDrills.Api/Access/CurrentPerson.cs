using System.Reflection;
using Microsoft.AspNetCore.Http;
using SchoolDrills.Api.Data;

namespace SchoolDrills.Api.Access;

/// <summary>
/// Who makes the request, and how much of the school that person sees: decided here, together with <see cref="Policies"/> (who may
/// call what), for the queries and, through <see cref="SchoolScope"/>, for the database. Handlers take it as a parameter; there is
/// none before sign-in, so only endpoints that require sign-in may.
/// </summary>
/// <param name="SessionId">Empty for a program with a token of its own.</param>
internal sealed record CurrentPerson(Guid Id, Guid SchoolId, Guid SessionId, string DisplayName, IReadOnlyList<string> Roles)
{
    /// <summary>The students an instructor gave an assignment to, where the school shows instructors no others.</summary>
    public IReadOnlyCollection<Guid>? Students { get; init; }

    /// <summary>When the password of this session was last given; null for a program with a token.</summary>
    public DateTimeOffset? PasswordAtUtc { get; init; }

    public bool IsChief => Roles.Contains(Contracts.Roles.Chief);

    /// <summary>Instructors and the chief, as opposed to students, who see themselves alone.</summary>
    public bool IsStaff => IsChief || Roles.Contains(Contracts.Roles.Instructor);

    public Viewer Viewer => IsStaff ? Viewer.Staff(SchoolId, Id, Students) : Viewer.Student(SchoolId, Id);

    public bool MaySee(Guid studentId) => Viewer.MaySee(studentId);

    public static ValueTask<CurrentPerson> BindAsync(HttpContext http, ParameterInfo parameter) =>
        ValueTask.FromResult(
            http.Features.Get<CurrentPerson>()
                ?? throw new InvalidOperationException($"{parameter.Member} takes the signed-in person, yet does not require sign-in.")
        );
}
