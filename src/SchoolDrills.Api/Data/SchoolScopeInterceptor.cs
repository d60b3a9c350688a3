using System.Data.Common;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Npgsql;

namespace SchoolDrills.Api.Data;

/// <summary>
/// Tells each connection on opening whose rows it may see. Npgsql resets the session when a connection goes back to
/// its pool, so nothing leaks to the next user; behind a pooler in transaction mode this would not hold.
/// </summary>
internal sealed class SchoolScopeInterceptor(SchoolScope scope) : DbConnectionInterceptor
{
    public override void ConnectionOpened(DbConnection connection, ConnectionEndEventData eventData)
    {
        using var command = SettingsFor(connection);
        command.ExecuteNonQuery();
    }

    public override async Task ConnectionOpenedAsync(
        DbConnection connection,
        ConnectionEndEventData eventData,
        CancellationToken cancellationToken = default
    )
    {
        await using var command = SettingsFor(connection);
        await command.ExecuteNonQueryAsync(cancellationToken);
    }

    private NpgsqlCommand SettingsFor(DbConnection connection) =>
        new(
            "select set_config('app.school_id', $1, false), set_config('app.person_id', $2, false), set_config('app.sight', $3, false)",
            (NpgsqlConnection)connection
        )
        {
            Parameters =
            {
                new() { Value = scope.SchoolId?.ToString() ?? "" },
                new() { Value = scope.PersonId?.ToString() ?? "" },
                new() { Value = scope.Sight },
            },
        };
}
