using System.Data.Common;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Npgsql;
using SchoolDrills.Api.Data.Postgres;

namespace SchoolDrills.Api.Data;

/// <summary>
/// Sets on opening whose rows the connection may see; a job's connects as the jobs' role. Npgsql resets a session that comes from its
/// pool, so nothing leaks to the next user and nobody needs no setting; behind a pooler in transaction mode this would not hold.
/// </summary>
internal sealed class SchoolScopeInterceptor(SchoolScope scope, DatabaseAccess access) : DbConnectionInterceptor
{
    public override InterceptionResult ConnectionOpening(DbConnection connection, ConnectionEventData eventData, InterceptionResult result)
    {
        ChooseRole(connection, eventData);
        return result;
    }

    public override ValueTask<InterceptionResult> ConnectionOpeningAsync(
        DbConnection connection,
        ConnectionEventData eventData,
        InterceptionResult result,
        CancellationToken cancellationToken = default
    )
    {
        ChooseRole(connection, eventData);
        return ValueTask.FromResult(result);
    }

    public override void ConnectionOpened(DbConnection connection, ConnectionEndEventData eventData)
    {
        if (scope.Viewer == Viewer.Nobody)
            return;
        using var command = SettingsFor(connection);
        command.ExecuteNonQuery();
    }

    public override async Task ConnectionOpenedAsync(
        DbConnection connection,
        ConnectionEndEventData eventData,
        CancellationToken cancellationToken = default
    )
    {
        if (scope.Viewer == Viewer.Nobody)
            return;
        await using var command = SettingsFor(connection);
        await command.ExecuteNonQueryAsync(cancellationToken);
    }

    /// <summary>Only now is it known who the viewer is: a job's context is made before its job enters the school.</summary>
    private void ChooseRole(DbConnection connection, ConnectionEventData eventData)
    {
        if (eventData.Context is not AccountsDbContext)
            connection.ConnectionString = scope.Viewer.Visibility == Visibility.Jobs ? access.Jobs : access.App;
    }

    private NpgsqlCommand SettingsFor(DbConnection connection) =>
        new(
            "select set_config('app.school_id', $1, false), set_config('app.person_id', $2, false), "
                + "set_config('app.visibility', $3, false)",
            (NpgsqlConnection)connection
        )
        {
            Parameters =
            {
                new() { Value = scope.Viewer.SchoolId?.ToString() ?? "" },
                new() { Value = scope.Viewer.PersonId?.ToString() ?? "" },
                new() { Value = scope.Viewer.Visibility.Word() },
            },
        };
}
