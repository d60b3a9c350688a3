using System.Reflection;
using Microsoft.AspNetCore.Http;

namespace SchoolDrills.Api.People;

/// <summary>
/// Who asks, and how much of the school that person sees: the one place that decides it, together with <see cref="Policies"/> (who may
/// call what). The database is told the same (<see cref="Sight"/>, db/policies/35-sight.sql). Handlers take it as a parameter; there
/// is none before sign-in, so only endpoints that require one may.
/// </summary>
/// <param name="SessionId">Empty for a program with a token of its own.</param>
internal sealed record CurrentPerson(Guid Id, Guid SchoolId, Guid SessionId, string DisplayName, IReadOnlyList<string> Roles)
{
    public const string Self = "self",
        OwnStudents = "own-students",
        WholeSchool = "school";

    /// <summary>The students an instructor gave an assignment to, where the school shows instructors no others.</summary>
    public IReadOnlySet<Guid>? Students { get; init; }

    public bool IsChief => Roles.Contains(Contracts.Roles.Chief);

    /// <summary>Instructors and the chief see the school; students see themselves.</summary>
    public bool SeesSchool => IsChief || Roles.Contains(Contracts.Roles.Instructor);

    public string Sight =>
        !SeesSchool ? Self
        : Students is not null ? OwnStudents
        : WholeSchool;

    public bool MaySee(Guid studentId) => studentId == Id || (SeesSchool && (Students is null || Students.Contains(studentId)));

    public static ValueTask<CurrentPerson> BindAsync(HttpContext http, ParameterInfo parameter) =>
        ValueTask.FromResult(
            http.Features.Get<CurrentPerson>()
                ?? throw new InvalidOperationException($"{parameter.Member} asks who is signed in, yet lets in those who are not.")
        );
}
