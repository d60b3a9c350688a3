using Npgsql;
using Xunit;

namespace SchoolDrills.Api.Tests.Data;

/// <summary>A connection of one role, past everything the app's own code does.</summary>
internal sealed class RawSql : IAsyncDisposable
{
    private RawSql(NpgsqlConnection connection) => Connection = connection;

    public NpgsqlConnection Connection { get; }

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <summary>Not pooled: no setting of an earlier user can be left on it.</summary>
    public static async Task<RawSql> OpenAsync(string connectionString)
    {
        var connection = new NpgsqlConnection(new NpgsqlConnectionStringBuilder(connectionString) { Pooling = false }.ConnectionString);
        await connection.OpenAsync(Cancel);
        return new RawSql(connection);
    }

    public ValueTask DisposeAsync() => Connection.DisposeAsync();

    public async Task SetAsync(string setting, object? value)
    {
        await using var command = new NpgsqlCommand("select set_config($1, $2, false)", Connection)
        {
            Parameters =
            {
                new() { Value = setting },
                new() { Value = value?.ToString() ?? "" },
            },
        };
        await command.ExecuteNonQueryAsync(Cancel);
    }

    public async Task EnterAsync(Guid? school, Guid? person, string visibility)
    {
        await SetAsync("app.school_id", school);
        await SetAsync("app.person_id", person);
        await SetAsync("app.visibility", visibility);
    }

    public async Task<object?> ScalarAsync(string sql)
    {
        await using var command = new NpgsqlCommand(sql, Connection);
        return await command.ExecuteScalarAsync(Cancel);
    }

    public async Task<long> CountAsync(string table) => (long)(await ScalarAsync($"select count(*) from {table}"))!;

    /// <returns>Rows that the statement changed.</returns>
    public async Task<int> ExecuteAsync(string sql)
    {
        await using var command = new NpgsqlCommand(sql, Connection);
        return await command.ExecuteNonQueryAsync(Cancel);
    }

    /// <summary>The first column of all rows.</summary>
    public async Task<List<string>> ReadAsync(string sql)
    {
        await using var command = new NpgsqlCommand(sql, Connection);
        await using var reader = await command.ExecuteReaderAsync(Cancel);
        var rows = new List<string>();
        while (await reader.ReadAsync(Cancel))
            rows.Add(reader.GetString(0));
        return rows;
    }

    /// <summary>Tables of the schema, as the catalog has them.</summary>
    public Task<List<string>> TablesAsync() =>
        ReadAsync("select relname from pg_class where relnamespace = 'public'::regnamespace and relkind in ('r', 'p') order by 1");

    public async Task RefusesAsync(string sql)
    {
        var refusal = await Assert.ThrowsAsync<PostgresException>(() => ExecuteAsync(sql));
        Assert.Equal((sql, PostgresErrorCodes.InsufficientPrivilege), (sql, refusal.SqlState));
    }
}
