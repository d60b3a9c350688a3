using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Data.Postgres;
using Xunit;

namespace SchoolDrills.Api.Tests.Data;

/// <summary>The walls as raw SQL meets them, past everything the app's own code does.</summary>
public sealed class SchoolWallTests(SchoolWallTests.TwoSchools schools) : IClassFixture<SchoolWallTests.TwoSchools>
{
    /// <summary>Tables of the installation; any other one is a school's.</summary>
    private static readonly string[] SharedTables =
    [
        "__EFMigrationsHistory",
        "data_protection_keys",
        "first_run_tokens",
        "sign_in_failures",
    ];

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Every_table_is_a_schools_and_walled_or_known_to_be_shared()
    {
        await using var owner = await OpenAsync(schools.Access.Owner);
        var walled = (await SchoolRows.TablesAsync(owner, Cancel)).Select(t => t.Table);
        var all = await ReadAsync(
            owner,
            "select relname from pg_class where relnamespace = 'public'::regnamespace and relkind in ('r', 'p')"
        );
        Assert.Empty(all.Except(walled).Except(SharedTables));
        Assert.Empty(await DatabaseSetup.TablesWithoutWallAsync(owner, Cancel));
    }

    [Theory]
    [InlineData(DatabaseAccess.AppRole)]
    [InlineData(DatabaseAccess.JobsRole)]
    public async Task A_raw_query_sees_rows_of_its_own_school_alone_in_every_table(string role)
    {
        await using var owner = await OpenAsync(schools.Access.Owner);
        await using var connection = await OpenAsync(role == DatabaseAccess.AppRole ? schools.Access.App : schools.Access.Jobs);
        var tables = await SchoolRows.TablesAsync(owner, Cancel);
        Assert.NotEmpty(tables);
        foreach (var (table, column) in tables)
        {
            Assert.Equal(2L, await ScalarAsync(owner, $"select count(*) from {table}"));
            if (await ScalarAsync(owner, $"select has_any_column_privilege('{role}', '{table}', 'select')") is false)
                continue;
            Assert.Equal((table, 0L), (table, await CountAsync(connection, table, null)));
            Assert.Equal((table, 0L), (table, await CountAsync(connection, table, Guid.NewGuid())));
            Assert.Equal((table, 1L), (table, await CountAsync(connection, table, schools.Tussock)));
            Assert.Equal(schools.Tussock, await ScalarAsync(connection, $"select {column} from {table}"));
        }
    }

    [Fact]
    public async Task A_raw_statement_cannot_write_into_another_school()
    {
        await using var owner = await OpenAsync(schools.Access.Owner);
        await using var app = await OpenAsync(schools.Access.App);
        foreach (var (table, column) in await SchoolRows.TablesAsync(owner, Cancel))
        {
            await EnterAsync(app, schools.Tussock);
            var insert = await SchoolRows.InsertStatementAsync(owner, table, column, schools.Elsewhere, Cancel);
            var refusal = await Assert.ThrowsAsync<PostgresException>(() => ScalarAsync(app, insert));
            Assert.Equal((table, PostgresErrorCodes.InsufficientPrivilege), (table, refusal.SqlState));
            Assert.Equal(
                (table, 0L),
                (table, await ScalarAsync(app, $"select count(*) from {table} where {column} = '{schools.Elsewhere}'"))
            );
        }
    }

    [Fact]
    public async Task The_next_user_of_a_pooled_connection_starts_with_nothing_in_sight()
    {
        var services = new ServiceCollection().AddSchoolDrillsDatabase(
            schools.Access with
            {
                App = new NpgsqlConnectionStringBuilder(schools.Access.App) { MaxPoolSize = 1 }.ConnectionString,
            }
        );
        await using var provider = services.BuildServiceProvider();
        var seen = new List<(int Backend, int People)>();
        foreach (var school in (Guid?[])[schools.Tussock, null, schools.Elsewhere])
        {
            await using var scope = provider.CreateAsyncScope();
            if (school is { } id)
                scope.ServiceProvider.GetRequiredService<SchoolScope>().Enter(id, null);
            var db = scope.ServiceProvider.GetRequiredService<SchoolDrillsDbContext>();
            seen.Add(
                (
                    await db.Database.SqlQueryRaw<int>("select pg_backend_pid() as \"Value\"").SingleAsync(Cancel),
                    await db.Database.SqlQueryRaw<int>("select count(*)::int as \"Value\" from people").SingleAsync(Cancel)
                )
            );
        }

        Assert.Equal([1, 0, 1], seen.Select(s => s.People));
        Assert.Single(seen.Select(s => s.Backend).Distinct());
    }

    [Fact]
    public async Task The_audit_trail_can_be_changed_by_nobody()
    {
        await using var owner = await OpenAsync(schools.Access.Owner);
        await using var app = await OpenAsync(schools.Access.App);
        await EnterAsync(app, schools.Tussock);
        foreach (
            var statement in (string[])["update audit_entries set action = 'other'", "delete from audit_entries", "truncate audit_entries"]
        )
        {
            foreach (var connection in (NpgsqlConnection[])[app, owner])
            {
                var refusal = await Assert.ThrowsAsync<PostgresException>(() => ScalarAsync(connection, statement));
                Assert.Equal(PostgresErrorCodes.InsufficientPrivilege, refusal.SqlState);
            }
        }
    }

    [Fact]
    public async Task Before_a_school_is_known_only_keys_can_be_looked_up()
    {
        await using var owner = await OpenAsync(schools.Access.Owner);
        await ScalarAsync(
            owner,
            $"update people set normalized_email = 'CHIEF@TUSSOCKPLAINS.EXAMPLE' where school_id = '{schools.Tussock}'"
        );
        await using var app = await OpenAsync(schools.Access.App);
        Assert.Equal(
            schools.Tussock,
            await ScalarAsync(app, "select school_id from lookup.person_by_email('CHIEF@TUSSOCKPLAINS.EXAMPLE')")
        );
        Assert.Null(await ScalarAsync(app, "select school_id from lookup.person_by_email('NOBODY@TUSSOCKPLAINS.EXAMPLE')"));
        Assert.Equal(2L, await ScalarAsync(app, "select count(*) from lookup.school_ids()"));

        await using var jobs = await OpenAsync(schools.Access.Jobs);
        foreach (
            var (connection, statement) in ((NpgsqlConnection, string)[])
                [
                    (app, "set role schooldrills_lookup"),
                    (app, "set role schooldrills_owner"),
                    (app, "select * from lookup.unscored_attempts()"),
                    (jobs, "select * from lookup.person_by_email('CHIEF@TUSSOCKPLAINS.EXAMPLE')"),
                    (jobs, "select password_hash from people"),
                ]
        )
        {
            var refusal = await Assert.ThrowsAsync<PostgresException>(() => ScalarAsync(connection, statement));
            Assert.Equal((statement, PostgresErrorCodes.InsufficientPrivilege), (statement, refusal.SqlState));
        }
    }

    [Fact]
    public async Task The_roles_that_serve_cannot_step_over_the_walls()
    {
        await using var owner = await OpenAsync(schools.Access.Owner);
        Assert.Empty(
            await ReadAsync(
                owner,
                $"""
                select rolname from pg_roles
                where rolname in ('{DatabaseAccess.AppRole}', '{DatabaseAccess.JobsRole}', '{DatabaseAccess.HangfireRole}', '{DatabaseAccess.LookupRole}', '{DatabaseAccess.EraserRole}')
                  and (rolsuper or rolbypassrls or rolcreatedb or rolcreaterole)
                """
            )
        );
    }

    [Fact]
    public async Task A_host_does_not_start_over_a_wall_that_was_taken_down()
    {
        await using var owner = await OpenAsync(schools.Access.Owner);
        await ScalarAsync(owner, "create table forgotten (school_id uuid not null)");
        Assert.Equal(["forgotten"], await DatabaseSetup.TablesWithoutWallAsync(owner, Cancel));

        // Tables changed, so a start puts the walls up anew.
        await DatabaseSetup.PrepareAsync(schools.Access, Cancel);
        Assert.Empty(await DatabaseSetup.TablesWithoutWallAsync(owner, Cancel));

        await ScalarAsync(owner, "alter table forgotten disable row level security");
        var refusal = await Assert.ThrowsAsync<StartupRefusedException>(() => DatabaseSetup.PrepareAsync(schools.Access, Cancel));
        Assert.Equal(
            "Row-level security is missing on forgotten: every table with a school_id needs the school_wall policy of db/policies.",
            refusal.Message
        );
        await ScalarAsync(owner, "drop table forgotten");
    }

    private static async Task<NpgsqlConnection> OpenAsync(string connectionString)
    {
        var connection = new NpgsqlConnection(connectionString);
        await connection.OpenAsync(Cancel);
        return connection;
    }

    private static async Task EnterAsync(NpgsqlConnection connection, Guid? school) =>
        await ScalarAsync(connection, $"select set_config('app.school_id', '{school}', false)");

    private static async Task<long> CountAsync(NpgsqlConnection connection, string table, Guid? school)
    {
        await EnterAsync(connection, school);
        return (long)(await ScalarAsync(connection, $"select count(*) from {table}"))!;
    }

    private static async Task<object?> ScalarAsync(NpgsqlConnection connection, string sql)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        return await command.ExecuteScalarAsync(Cancel);
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

    /// <summary>A database with one row of each of two schools in every table of a school.</summary>
    public sealed class TwoSchools : IAsyncLifetime
    {
        private readonly TestDatabase _database = new();

        public Guid Tussock { get; } = Guid.NewGuid();

        public Guid Elsewhere { get; } = Guid.NewGuid();

        internal DatabaseAccess Access => _database.Access;

        public async ValueTask InitializeAsync()
        {
            await _database.InitializeAsync();
            await using var owner = new NpgsqlConnection(Access.Owner);
            await owner.OpenAsync();
            await SchoolRows.InsertAsync(owner, Tussock, CancellationToken.None);
            await SchoolRows.InsertAsync(owner, Elsewhere, CancellationToken.None);
        }

        public ValueTask DisposeAsync() => _database.DisposeAsync();
    }
}
