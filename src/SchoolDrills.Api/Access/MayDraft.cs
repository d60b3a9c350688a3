using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;

namespace SchoolDrills.Api.Access;

/// <summary>The chief instructor, or any instructor of a school that lets its instructors draft drills.</summary>
internal sealed class MayDraft : IAuthorizationRequirement;

internal sealed class MayDraftHandler(SchoolDrillsDbContext db) : AuthorizationHandler<MayDraft>
{
    protected override async Task HandleRequirementAsync(AuthorizationHandlerContext context, MayDraft requirement)
    {
        if (
            context.Resource is HttpContext http
            && http.Features.Get<CurrentPerson>() is { IsStaff: true } me
            && (me.IsChief || await db.Schools.AnyAsync(s => s.InstructorsDraft, http.RequestAborted))
        )
        {
            context.Succeed(requirement);
        }
    }
}
