using Npgsql;

namespace SchoolDrills.Api.Tests.Data;

/// <summary>One made-up row for a school in every table of a school, so that a new table is in the tests by itself.</summary>
internal static class SchoolRows
{
    /// <summary>Tables of a school, each with the column that says whose its rows are.</summary>
    public static async Task<IReadOnlyList<(string Table, string Column)>> TablesAsync(NpgsqlConnection connection, CancellationToken ct)
    {
        await using var command = new NpgsqlCommand(
            """
            select c.relname, a.attname from pg_class c join pg_attribute a on a.attrelid = c.oid and not a.attisdropped
            where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p')
              and (a.attname = 'school_id' or c.relname = 'schools' and a.attname = 'id')
            order by 1
            """,
            connection
        );
        await using var reader = await command.ExecuteReaderAsync(ct);
        var tables = new List<(string, string)>();
        while (await reader.ReadAsync(ct))
            tables.Add((reader.GetString(0), reader.GetString(1)));
        return tables;
    }

    /// <summary>
    /// As the server's superuser, with foreign keys and triggers off: what the rows say does not matter, only whose they are.
    /// </summary>
    public static async Task InsertAsync(NpgsqlConnection owner, Guid schoolId, CancellationToken ct)
    {
        await ExecuteAsync(owner, "set session_replication_role = replica", ct);
        foreach (var (table, column) in await TablesAsync(owner, ct))
            await ExecuteAsync(owner, await InsertStatementAsync(owner, table, column, schoolId, ct), ct);
        await ExecuteAsync(owner, "set session_replication_role = origin", ct);
    }

    public static async Task<string> InsertStatementAsync(
        NpgsqlConnection owner,
        string table,
        string schoolColumn,
        Guid schoolId,
        CancellationToken ct
    )
    {
        await using var command = new NpgsqlCommand(
            """
            select format('insert into %I (%s) values (%s)', $1, string_agg(quote_ident(column_name), ', '), string_agg(
              case
                when column_name = $2 then quote_literal($3)
                when udt_name = 'uuid' then quote_literal(gen_random_uuid())
                when udt_name in ('text', 'varchar') then quote_literal(left(md5(random()::text), coalesce(character_maximum_length, 32)))
                when udt_name = 'jsonb' then '''{}'''
                when udt_name = 'bytea' then ''''''
                when udt_name like '\_%' then '''{}'''
                when udt_name = 'bool' then 'false'
                when udt_name in ('timestamptz', 'date') then 'now()'
                else '1'
              end, ', '))
            from information_schema.columns
            where table_schema = 'public' and table_name = $1 and is_nullable = 'NO' and is_identity = 'NO' and is_generated = 'NEVER'
              and column_default is null
            """,
            owner
        )
        {
            Parameters =
            {
                new() { Value = table },
                new() { Value = schoolColumn },
                new() { Value = schoolId.ToString() },
            },
        };
        return (string)(await command.ExecuteScalarAsync(ct))!;
    }

    private static async Task ExecuteAsync(NpgsqlConnection connection, string sql, CancellationToken ct)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync(ct);
    }
}
