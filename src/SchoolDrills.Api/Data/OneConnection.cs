using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;

namespace SchoolDrills.Api.Data;

/// <summary>
/// Keeps a handler's connection open from its first line to its last, so that whose rows it sees is set once and not for each query. It
/// opens once the body has been read and closes before the answer is written: a slow client holds no connection.
/// </summary>
internal static class OneConnection
{
    /// <summary>For the handlers of this group that take a <see cref="SchoolDrillsDbContext"/>.</summary>
    public static RouteGroupBuilder OnOneConnection(this RouteGroupBuilder group) =>
        group.AddEndpointFilterFactory(
            (handler, next) =>
            {
                var parameters = handler.MethodInfo.GetParameters();
                var place = Array.FindIndex(parameters, p => p.ParameterType == typeof(SchoolDrillsDbContext));
                // Handlers that sign people in take the accounts' context and enter the school as they go, and those that take the
                // request read its body themselves: a connection for each query.
                return place < 0 || Array.Exists(parameters, p => p.ParameterType == typeof(HttpRequest))
                    ? next
                    : request => RunAsync(request, request.GetArgument<SchoolDrillsDbContext>(place), next);
            }
        );

    private static async ValueTask<object?> RunAsync(
        EndpointFilterInvocationContext request,
        SchoolDrillsDbContext db,
        EndpointFilterDelegate next
    )
    {
        await db.Database.OpenConnectionAsync(request.HttpContext.RequestAborted);
        try
        {
            return await next(request);
        }
        finally
        {
            await db.Database.CloseConnectionAsync();
        }
    }
}
