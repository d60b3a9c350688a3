using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;
using Npgsql;

namespace SchoolDrills.Api.Data.Postgres;

/// <summary>
/// Brings a database up to date before anything is served: roles, migrations, policies, then the check that row-level
/// security is on for every table of a school. Hosts that start together take turns.
/// </summary>
internal static class DatabaseSetup
{
    // Any fixed number does, as long as nothing else in the same server takes it.
    private const long LockNumber = 0x5C400101;
    private const string PolicyResources = "SchoolDrills.Api.db.policies.";

    /// <exception cref="StartupRefusedException">The server does not answer, or a school's table is not isolated.</exception>
    public static async Task PrepareAsync(DatabaseAccess access, CancellationToken ct = default)
    {
        try
        {
            await MakeRolesAsync(access, ct);
            await using var owner = new NpgsqlConnection(access.Owner);
            await owner.OpenAsync(ct);
            await using var turn = await AdvisoryLock.TakeAsync(owner, ct);
            await MigrateAsync(access.Owner, ct);
            await ApplyPoliciesAsync(owner, ct);
            await RefuseMissingIsolationAsync(owner, ct);
            // Nothing serves as the owner: its connections end with the setup.
            NpgsqlConnection.ClearPool(owner);
        }
        catch (NpgsqlException e) when (e is not PostgresException)
        {
            var target = new NpgsqlConnectionStringBuilder(access.Owner);
            throw new StartupRefusedException(
                $"The database at {target.Host}:{target.Port} does not answer: {e.InnerException?.Message ?? e.Message}",
                e
            );
        }
        catch (PostgresException e) when (e.SqlState is PostgresErrorCodes.InvalidPassword or PostgresErrorCodes.InvalidCatalogName)
        {
            throw new StartupRefusedException($"ConnectionStrings:SchoolDrills was refused by the server: {e.MessageText}.", e);
        }
        catch (PostgresException e) when (e.SqlState == PostgresErrorCodes.RaiseException)
        {
            // What the roles and scripts themselves object to, in one sentence.
            throw new StartupRefusedException(e.MessageText, e);
        }
    }

    /// <summary>Tables of a school on which row-level security is not on, not forced, or without a policy.</summary>
    public static async Task<IReadOnlyList<string>> TablesWithoutIsolationAsync(NpgsqlConnection connection, CancellationToken ct)
    {
        await using var command = new NpgsqlCommand(
            """
            select c.relname from pg_class c
            join pg_attribute a on a.attrelid = c.oid and a.attname = 'school_id' and not a.attisdropped
            where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p')
              and not (c.relrowsecurity and c.relforcerowsecurity
                       and exists (select from pg_policy p where p.polrelid = c.oid and p.polname = 'school_isolation'))
            order by 1
            """,
            connection
        );
        var tables = new List<string>();
        await using var reader = await command.ExecuteReaderAsync(ct);
        while (await reader.ReadAsync(ct))
            tables.Add(reader.GetString(0));
        return tables;
    }

    /// <summary>Roles belong to the whole server, so their lock is taken in a database that all share.</summary>
    private static async Task MakeRolesAsync(DatabaseAccess access, CancellationToken ct)
    {
        var owner = new NpgsqlConnectionStringBuilder(access.Owner);
        var shared = new NpgsqlConnectionStringBuilder(access.Owner) { Database = "postgres", Pooling = false };
        await using var connection = new NpgsqlConnection(shared.ConnectionString);
        await connection.OpenAsync(ct);
        await using var turn = await AdvisoryLock.TakeAsync(connection, ct);
        foreach (
            var role in (string[])
                [
                    DatabaseAccess.AppRole,
                    DatabaseAccess.JobsRole,
                    DatabaseAccess.AccountsRole,
                    DatabaseAccess.HangfireRole,
                    DatabaseAccess.LookupRole,
                    DatabaseAccess.EraserRole,
                ]
        )
        {
            // The derived password is hexadecimal: nothing in it needs quoting.
            var login = role is DatabaseAccess.LookupRole or DatabaseAccess.EraserRole
                ? "nologin"
                : $"login password '{DatabaseAccess.PasswordOf(role, owner.Password!)}'";
            await ExecuteAsync(
                connection,
                $"""
                do $$ begin
                  if not exists (select from pg_roles where rolname = '{role}') then
                    create role {role} nosuperuser nobypassrls nocreatedb nocreaterole noinherit;
                  end if;
                  if exists (select from pg_roles where rolname = '{role}' and (rolsuper or rolbypassrls)) then
                    raise exception 'Role {role} could read across schools: take SUPERUSER and BYPASSRLS from it.';
                  end if;
                end $$;
                alter role {role} {login};
                grant {role} to current_user;
                """,
                ct
            );
        }
    }

    private static async Task MigrateAsync(string ownerConnectionString, CancellationToken ct)
    {
        var options = new DbContextOptionsBuilder<SchoolDrillsDbContext>().UseNpgsql(ownerConnectionString).Options;
        await using var db = new SchoolDrillsDbContext(options);
        await db.Database.MigrateAsync(ct);
    }

    /// <summary>
    /// Policies are re-applied only where they or the tables changed: putting them up locks tables that another host
    /// may be serving from.
    /// </summary>
    private static async Task ApplyPoliciesAsync(NpgsqlConnection owner, CancellationToken ct)
    {
        var scripts = ReadPolicyScripts();
        var tables = await ScalarAsync(
            owner,
            """
            select string_agg(c.relname || '.' || attname, ',' order by c.relname, attname)
            from pg_attribute join pg_class c on c.oid = attrelid
            where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p') and attnum > 0 and not attisdropped
            """,
            ct
        );
        var fingerprint = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Concat(scripts) + tables)));
        if (await ScalarAsync(owner, "select obj_description(to_regnamespace('lookup'), 'pg_namespace')", ct) == fingerprint)
            return;

        await using var transaction = await owner.BeginTransactionAsync(ct);
        foreach (var script in scripts)
            await ExecuteAsync(owner, script, ct);
        await ExecuteAsync(owner, $"comment on schema lookup is '{fingerprint}'", ct);
        await transaction.CommitAsync(ct);
    }

    private static async Task RefuseMissingIsolationAsync(NpgsqlConnection owner, CancellationToken ct)
    {
        var open = await TablesWithoutIsolationAsync(owner, ct);
        if (open.Count > 0)
            throw new StartupRefusedException(
                $"Row-level security is missing on {string.Join(", ", open)}: "
                    + "every table with a school_id needs the school_isolation policy of db/policies."
            );
    }

    private static List<string> ReadPolicyScripts()
    {
        var assembly = typeof(DatabaseSetup).Assembly;
        var scripts = new List<string>();
        foreach (
            var name in assembly
                .GetManifestResourceNames()
                .Where(n => n.StartsWith(PolicyResources, StringComparison.Ordinal))
                .Order(StringComparer.Ordinal)
        )
        {
            using var reader = new StreamReader(assembly.GetManifestResourceStream(name)!);
            scripts.Add(reader.ReadToEnd());
        }

        return scripts;
    }

    private static async Task<string?> ScalarAsync(NpgsqlConnection connection, string sql, CancellationToken ct)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        return await command.ExecuteScalarAsync(ct) as string;
    }

    private static async Task ExecuteAsync(NpgsqlConnection connection, string sql, CancellationToken ct)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync(ct);
    }

    /// <summary>Held by the session, so that it goes with the connection however the host ends.</summary>
    private sealed class AdvisoryLock(NpgsqlConnection connection) : IAsyncDisposable
    {
        public static async Task<AdvisoryLock> TakeAsync(NpgsqlConnection connection, CancellationToken ct)
        {
            await using var command = new NpgsqlCommand($"select pg_advisory_lock({LockNumber})", connection) { CommandTimeout = 120 };
            await command.ExecuteNonQueryAsync(ct);
            return new AdvisoryLock(connection);
        }

        public async ValueTask DisposeAsync() =>
            await ExecuteAsync(connection, $"select pg_advisory_unlock({LockNumber})", CancellationToken.None);
    }
}
