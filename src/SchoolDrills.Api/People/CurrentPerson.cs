using System.Reflection;
using Microsoft.AspNetCore.Http;

namespace SchoolDrills.Api.People;

/// <summary>Who asks. Handlers take it as a parameter; there is none before sign-in, so only endpoints that require one may.</summary>
internal sealed record CurrentPerson(Guid Id, Guid SchoolId, Guid SessionId, string DisplayName, IReadOnlyList<string> Roles)
{
    public bool IsChief => Roles.Contains(Contracts.Roles.Chief);

    /// <summary>Instructors and the chief see the whole school; students see themselves.</summary>
    public bool SeesSchool => IsChief || Roles.Contains(Contracts.Roles.Instructor);

    public bool MaySee(Guid studentId) => SeesSchool || studentId == Id;

    public static ValueTask<CurrentPerson> BindAsync(HttpContext http, ParameterInfo parameter) =>
        ValueTask.FromResult(http.Features.Get<CurrentPerson>() ?? throw new InvalidOperationException($"{parameter.Member} asks who is signed in, yet lets in those who are not."));
}
