using Npgsql;
using SchoolDrills.Api.Data.Postgres;

namespace SchoolDrills.Api.Operators;

/// <summary>A school as a command found it.</summary>
internal sealed record FoundSchool(Guid Id, string Name);

/// <summary>
/// A connection as the owner, for a command. Row-level security binds the owner too: it sees the school it has entered, and no other.
/// </summary>
internal sealed class OwnerConnection : IAsyncDisposable
{
    private OwnerConnection(NpgsqlConnection connection) => Connection = connection;

    public NpgsqlConnection Connection { get; }

    public static async Task<OwnerConnection> OpenAsync(DatabaseHost database, CancellationToken ct)
    {
        // Not pooled, so that it ends with the command; a large recording takes its time.
        var settings = new NpgsqlConnectionStringBuilder(database.Access.Owner) { Pooling = false, CommandTimeout = 0 };
        var connection = new NpgsqlConnection(settings.ConnectionString);
        await connection.OpenAsync(ct);
        return new OwnerConnection(connection);
    }

    public ValueTask DisposeAsync() => Connection.DisposeAsync();

    public Task EnterAsync(Guid schoolId, CancellationToken ct) =>
        ExecuteAsync("select set_config('app.school_id', $1, false)", ct, schoolId.ToString());

    public async Task<int> ExecuteAsync(string sql, CancellationToken ct, params object[] values)
    {
        await using var command = Command(sql, values);
        return await command.ExecuteNonQueryAsync(ct);
    }

    public async Task<List<T>> ReadAsync<T>(string sql, Func<NpgsqlDataReader, T> row, CancellationToken ct, params object[] values)
    {
        await using var command = Command(sql, values);
        await using var reader = await command.ExecuteReaderAsync(ct);
        var rows = new List<T>();
        while (await reader.ReadAsync(ct))
            rows.Add(row(reader));
        return rows;
    }

    /// <summary>Every school, each entered for its name.</summary>
    public async Task<List<FoundSchool>> SchoolsAsync(CancellationToken ct)
    {
        var schools = new List<FoundSchool>();
        foreach (var id in await ReadAsync("select id from lookup.school_ids()", r => r.GetGuid(0), ct))
        {
            await EnterAsync(id, ct);
            schools.AddRange(
                await ReadAsync("select id, name from schools where id = $1", r => new FoundSchool(r.GetGuid(0), r.GetString(1)), ct, id)
            );
        }

        return [.. schools.OrderBy(s => s.Name, StringComparer.OrdinalIgnoreCase).ThenBy(s => s.Id)];
    }

    /// <summary>Finds a school by name or id, and enters it.</summary>
    /// <exception cref="StartupRefusedException">There is none, or several have the name.</exception>
    public async Task<FoundSchool> EnterAsync(string nameOrId, CancellationToken ct)
    {
        var found = (await SchoolsAsync(ct)).FindAll(s => s.Name == nameOrId || s.Id.ToString() == nameOrId);
        if (found is not [var school])
        {
            throw new StartupRefusedException(
                found.Count == 0
                    ? $"There is no school {nameOrId} here: give its name as its pages show it, or its id, "
                        + "as the command schools lists them."
                    : $"{found.Count} schools are named {nameOrId}: give the id of the one you mean, as the command schools lists them."
            );
        }

        await EnterAsync(school.Id, ct);
        return school;
    }

    /// <summary>Notes in the school's trail what whoever looks after the server did.</summary>
    public Task NoteAsync(Guid schoolId, string action, string detail, CancellationToken ct) =>
        ExecuteAsync(
            """
            insert into audit_entries (school_id, at_utc, action, subject, subject_id, detail, changes)
            values ($1, now(), $2, 'school', $1, $3, '[]')
            """,
            ct,
            schoolId,
            action,
            detail + ", by whoever looks after the server"
        );

    private NpgsqlCommand Command(string sql, object[] values)
    {
        var command = new NpgsqlCommand(sql, Connection);
        foreach (var value in values)
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        return command;
    }
}
