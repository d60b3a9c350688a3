using Npgsql;
using SchoolDrills.Api.Data.Postgres;
using Xunit;

namespace SchoolDrills.Api.Tests.Data;

/// <summary>The walls as raw SQL meets them, past everything the app's own code does.</summary>
public sealed class SchoolWallTests(TestDatabase database) : IClassFixture<TestDatabase>
{
    private const string SchoolTables =
        """
        select c.relname from pg_class c join pg_attribute a on a.attrelid = c.oid and not a.attisdropped
        where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p')
          and (a.attname = 'school_id' or c.relname = 'schools' and a.attname = 'id')
        """;

    /// <summary>Tables that belong to the installation, not to a school; a new table is a school's unless it is named here.</summary>
    private static readonly string[] SharedTables = ["__EFMigrationsHistory", "data_protection_keys"];

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Every_table_is_a_schools_and_walled_or_known_to_be_shared()
    {
        await using var owner = await OpenAsync(database.Access.Owner);
        var walled = await ReadAsync(owner, SchoolTables);
        var all = await ReadAsync(owner, "select relname from pg_class where relnamespace = 'public'::regnamespace and relkind in ('r', 'p')");
        Assert.Empty(all.Except(walled).Except(SharedTables));
        Assert.Empty(await DatabaseSetup.TablesWithoutWallAsync(owner, Cancel));
    }

    [Fact]
    public async Task The_roles_that_serve_cannot_step_over_the_walls()
    {
        await using var owner = await OpenAsync(database.Access.Owner);
        var able = await ReadAsync(
            owner,
            """
            select rolname from pg_roles where rolname like 'schooldrills\_%' and rolname <> current_user
              and (rolsuper or rolbypassrls or rolcreatedb or rolcreaterole)
            """);
        Assert.Empty(able);
    }

    [Fact]
    public async Task A_table_without_its_wall_keeps_the_host_from_starting()
    {
        await using var owner = await OpenAsync(database.Access.Owner);
        await using (var make = new NpgsqlCommand("create table forgotten (school_id uuid not null)", owner))
            await make.ExecuteNonQueryAsync(Cancel);
        Assert.Equal(["forgotten"], await DatabaseSetup.TablesWithoutWallAsync(owner, Cancel));

        // A start puts the wall up, since the tables changed.
        await DatabaseSetup.PrepareAsync(database.Access, Cancel);
        Assert.Empty(await DatabaseSetup.TablesWithoutWallAsync(owner, Cancel));

        await using (var open = new NpgsqlCommand("alter table forgotten disable row level security", owner))
            await open.ExecuteNonQueryAsync(Cancel);
        var refusal = await Assert.ThrowsAsync<StartupRefusedException>(() => DatabaseSetup.PrepareAsync(database.Access, Cancel));
        Assert.Contains("forgotten", refusal.Message, StringComparison.Ordinal);
        await using var drop = new NpgsqlCommand("drop table forgotten", owner);
        await drop.ExecuteNonQueryAsync(Cancel);
    }

    private static async Task<NpgsqlConnection> OpenAsync(string connectionString)
    {
        var connection = new NpgsqlConnection(connectionString);
        await connection.OpenAsync(Cancel);
        return connection;
    }

    private static async Task<List<string>> ReadAsync(NpgsqlConnection connection, string sql)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        await using var reader = await command.ExecuteReaderAsync(Cancel);
        var rows = new List<string>();
        while (await reader.ReadAsync(Cancel))
            rows.Add(reader.GetString(0));
        return rows;
    }
}
