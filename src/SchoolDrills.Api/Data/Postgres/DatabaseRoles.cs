using Npgsql;

namespace SchoolDrills.Api.Data.Postgres;

/// <summary>The roles of <see cref="DatabaseAccess"/>, made where they lack. They belong to the whole server.</summary>
internal static class DatabaseRoles
{
    private static readonly string[] SignIn =
    [
        DatabaseAccess.AppRole,
        DatabaseAccess.JobsRole,
        DatabaseAccess.AccountsRole,
        DatabaseAccess.HangfireRole,
    ];

    private static readonly string[] OwnFunctions = [DatabaseAccess.LookupRole, DatabaseAccess.EraserRole];

    /// <param name="connection">As the owner. The derived passwords are hexadecimal, so nothing in them needs quoting.</param>
    public static async Task MakeAsync(NpgsqlConnection connection, string ownerPassword, CancellationToken ct)
    {
        foreach (var role in SignIn)
        {
            await MakeAsync(connection, role, $"login password '{DatabaseAccess.PasswordOf(role, ownerPassword)}'", ct);
            // Requests ask for few rows of large tables: to compile such a plan takes longer than to run it.
            await ExecuteAsync(connection, $"alter role {role} set jit = off", ct);
        }

        foreach (var role in OwnFunctions)
            await MakeAsync(connection, role, "nologin", ct);
    }

    private static Task MakeAsync(NpgsqlConnection connection, string role, string login, CancellationToken ct) =>
        ExecuteAsync(
            connection,
            $"""
            do $$ begin
              if not exists (select from pg_roles where rolname = '{role}') then
                create role {role} nosuperuser nobypassrls nocreatedb nocreaterole noreplication noinherit;
              end if;
              if exists (select from pg_roles where rolname = '{role}'
                    and (rolsuper or rolbypassrls or rolcreaterole or rolreplication)) then
                raise exception 'Role {role} could read across schools: take SUPERUSER, BYPASSRLS, CREATEROLE and REPLICATION from it.';
              end if;
              if exists (select from pg_auth_members where member = '{role}'::regrole) then
                raise exception 'Role {role} could act as another role: revoke what it is a member of.';
              end if;
            end $$;
            alter role {role} {login};
            grant {role} to current_user;
            """,
            ct
        );

    private static async Task ExecuteAsync(NpgsqlConnection connection, string sql, CancellationToken ct)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync(ct);
    }
}
