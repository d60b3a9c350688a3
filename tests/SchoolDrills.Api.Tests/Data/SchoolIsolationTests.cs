using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Data.Postgres;
using Xunit;

namespace SchoolDrills.Api.Tests.Data;

/// <summary>The isolation of schools from each other as raw SQL meets it.</summary>
public sealed class SchoolIsolationTests(SchoolIsolationTests.TwoSchools schools) : IClassFixture<SchoolIsolationTests.TwoSchools>
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
    public async Task Every_table_is_a_schools_and_isolated_or_known_to_be_shared()
    {
        await using var owner = await RawSql.OpenAsync(schools.Access.Owner);
        var isolated = (await SchoolRows.TablesAsync(owner.Connection, Cancel)).Select(t => t.Table);
        Assert.Equal(SharedTables, (await owner.TablesAsync()).Except(isolated).Order(StringComparer.Ordinal));
        Assert.Equal(
            isolated,
            await owner.ReadAsync(
                """
                select c.relname from pg_class c join pg_policy p on p.polrelid = c.oid
                where c.relrowsecurity and c.relforcerowsecurity and p.polname = 'school_isolation' and p.polpermissive and p.polcmd = '*'
                  and p.polroles = '{0}'
                order by 1
                """
            )
        );
    }

    [Theory]
    [InlineData(DatabaseAccess.AppRole, "whole-school")]
    [InlineData(DatabaseAccess.JobsRole, "jobs")]
    [InlineData(DatabaseAccess.AccountsRole, "none")]
    public async Task A_raw_query_sees_rows_of_its_own_school_alone_in_every_table(string role, string visibility)
    {
        await using var owner = await RawSql.OpenAsync(schools.Access.Owner);
        await using var raw = await RawSql.OpenAsync(
            role switch
            {
                DatabaseAccess.AppRole => schools.Access.App,
                DatabaseAccess.JobsRole => schools.Access.Jobs,
                _ => schools.Access.Accounts,
            }
        );
        // Who sees all of the school: recordings that wait, and the audit trail too.
        var chief = (Guid)(await owner.ScalarAsync($"select id from people where school_id = '{schools.Tussock}'"))!;
        var tables = await SchoolRows.TablesAsync(owner.Connection, Cancel);
        Assert.NotEmpty(tables);
        foreach (var (table, column) in tables)
        {
            Assert.Equal(2L, await owner.CountAsync(table));
            if (await owner.ScalarAsync($"select has_column_privilege('{role}', '{table}', '{column}', 'select')") is false)
                continue;
            await raw.EnterAsync(null, chief, visibility);
            Assert.Equal((table, 0L), (table, await raw.CountAsync(table)));
            await raw.EnterAsync(Guid.NewGuid(), chief, visibility);
            Assert.Equal((table, 0L), (table, await raw.CountAsync(table)));
            await raw.EnterAsync(schools.Tussock, chief, visibility);
            Assert.Equal((table, 1L), (table, await raw.CountAsync(table)));
            Assert.Equal(schools.Tussock, await raw.ScalarAsync($"select {column} from {table}"));
        }
    }

    [Fact]
    public async Task A_raw_statement_cannot_write_into_another_school()
    {
        await using var owner = await RawSql.OpenAsync(schools.Access.Owner);
        await using var app = await RawSql.OpenAsync(schools.Access.App);
        await app.EnterAsync(schools.Tussock, null, "whole-school");
        foreach (var (table, column) in await SchoolRows.TablesAsync(owner.Connection, Cancel))
        {
            await app.RefusesAsync(await SchoolRows.InsertStatementAsync(owner.Connection, table, column, schools.Elsewhere, Cancel));
            Assert.Equal((table, 1L), (table, await owner.CountAsync($"{table} where {column} = '{schools.Elsewhere}'")));
        }
    }

    [Fact]
    public async Task The_next_user_of_a_pooled_connection_starts_with_nothing_visible()
    {
        var services = new ServiceCollection().AddSchoolDrillsDatabase(
            schools.Access with
            {
                App = new NpgsqlConnectionStringBuilder(schools.Access.App) { MaxPoolSize = 1 }.ConnectionString,
            }
        );
        await using var provider = services.BuildServiceProvider();
        var seen = new List<(int Backend, int People, int Attempts)>();
        foreach (var school in (Guid?[])[schools.Tussock, null, schools.Elsewhere])
        {
            await using var scope = provider.CreateAsyncScope();
            if (school is { } id)
                scope.ServiceProvider.GetRequiredService<SchoolScope>().Enter(Viewer.Staff(id, Guid.NewGuid(), ownStudents: null));
            var db = scope.ServiceProvider.GetRequiredService<SchoolDrillsDbContext>();
            seen.Add(
                (
                    await db.Database.SqlQueryRaw<int>("select pg_backend_pid() as \"Value\"").SingleAsync(Cancel),
                    await db.Database.SqlQueryRaw<int>("select count(*)::int as \"Value\" from people").SingleAsync(Cancel),
                    await db.Database.SqlQueryRaw<int>("select count(*)::int as \"Value\" from attempts").SingleAsync(Cancel)
                )
            );
        }

        Assert.Equal([1, 0, 1], seen.Select(s => s.People));
        Assert.Equal([1, 0, 1], seen.Select(s => s.Attempts));
        Assert.Single(seen.Select(s => s.Backend).Distinct());
    }

    [Fact]
    public async Task The_audit_trail_can_be_changed_by_nobody()
    {
        await using var owner = await RawSql.OpenAsync(schools.Access.Owner);
        await using var app = await RawSql.OpenAsync(schools.Access.App);
        await app.EnterAsync(schools.Tussock, null, "whole-school");
        foreach (
            var statement in (string[])["update audit_entries set action = 'other'", "delete from audit_entries", "truncate audit_entries"]
        )
        {
            await app.RefusesAsync(statement);
            await owner.RefusesAsync(statement);
        }
    }

    [Fact]
    public async Task Before_a_school_is_known_only_keys_can_be_looked_up()
    {
        await using var owner = await RawSql.OpenAsync(schools.Access.Owner);
        await owner.ExecuteAsync(
            $"update people set normalized_email = 'CHIEF@TUSSOCKPLAINS.EXAMPLE' where school_id = '{schools.Tussock}'"
        );
        await using var accounts = await RawSql.OpenAsync(schools.Access.Accounts);
        const string byEmail = "select school_id from lookup.person_by_email";
        Assert.Equal(schools.Tussock, await accounts.ScalarAsync($"{byEmail}('CHIEF@TUSSOCKPLAINS.EXAMPLE')"));
        Assert.Null(await accounts.ScalarAsync($"{byEmail}('NOBODY@TUSSOCKPLAINS.EXAMPLE')"));
        Assert.Equal(2L, await accounts.CountAsync("lookup.school_ids()"));

        await using var app = await RawSql.OpenAsync(schools.Access.App);
        await using var jobs = await RawSql.OpenAsync(schools.Access.Jobs);
        await app.RefusesAsync("set role schooldrills_lookup");
        await app.RefusesAsync("set role schooldrills_owner");
        await app.RefusesAsync("select * from lookup.claim_recording(gen_random_uuid(), interval '1 second')");
        await app.RefusesAsync("select * from lookup.school_ids()");
        await app.RefusesAsync("select * from lookup.students_of(gen_random_uuid(), gen_random_uuid())");
        await accounts.RefusesAsync("select * from lookup.recording_waits()");
        foreach (var raw in (RawSql[])[app, jobs])
        {
            await raw.RefusesAsync($"{byEmail}('CHIEF@TUSSOCKPLAINS.EXAMPLE')");
            await raw.RefusesAsync("select * from lookup.link_by_hash('x')");
        }
    }

    [Fact]
    public async Task The_roles_that_serve_cannot_bypass_row_level_security()
    {
        await using var owner = await RawSql.OpenAsync(schools.Access.Owner);
        Assert.Empty(
            await owner.ReadAsync(
                $"""
                select rolname from pg_roles
                where rolname in ('{DatabaseAccess.AppRole}', '{DatabaseAccess.JobsRole}',
                '{DatabaseAccess.AccountsRole}', '{DatabaseAccess.HangfireRole}',
                                  '{DatabaseAccess.LookupRole}', '{DatabaseAccess.EraserRole}')
                  and (rolsuper or rolbypassrls or rolcreatedb or rolcreaterole)
                """
            )
        );
    }

    /// <summary>A database with one row of each of two schools in every table of a school.</summary>
    public sealed class TwoSchools : IAsyncLifetime
    {
        private readonly TestDatabase database = new();

        public Guid Tussock { get; } = Guid.NewGuid();

        public Guid Elsewhere { get; } = Guid.NewGuid();

        internal DatabaseAccess Access => database.Access;

        public async ValueTask InitializeAsync()
        {
            await database.InitializeAsync();
            await using var owner = new NpgsqlConnection(Access.Owner);
            await owner.OpenAsync();
            await SchoolRows.InsertAsync(owner, Tussock, CancellationToken.None);
            await SchoolRows.InsertAsync(owner, Elsewhere, CancellationToken.None);
            await using var joined = new NpgsqlCommand(
                """
                update people set roles = '{chief}', active = true;
                update notices n set person_id = p.id from people p where p.school_id = n.school_id
                """,
                owner
            );
            await joined.ExecuteNonQueryAsync();
        }

        public ValueTask DisposeAsync() => database.DisposeAsync();
    }
}
