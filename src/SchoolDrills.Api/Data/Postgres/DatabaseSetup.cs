using Microsoft.EntityFrameworkCore;
using Npgsql;

namespace SchoolDrills.Api.Data.Postgres;

/// <summary>
/// Brings a database up to date before anything is served: roles, migrations, policies; and refuses one that somebody changed or that
/// a newer version made. Hosts that start together take turns.
/// </summary>
internal static class DatabaseSetup
{
    // Any fixed number does, as long as nothing else in the same server takes it.
    private const long LockNumber = 0x5C400101;

    /// <summary>As long as another host may take to bring a large database up to date.</summary>
    private const int TurnS = 3600;

    /// <param name="repair">Whether an operator asked for what was changed to be set up again.</param>
    /// <exception cref="StartupRefusedException">The server does not answer, or the database is not one to serve from.</exception>
    public static async Task PrepareAsync(DatabaseAccess access, bool repair = false, CancellationToken ct = default)
    {
        var target = new NpgsqlConnectionStringBuilder(access.Owner);
        try
        {
            await MakeRolesAsync(target, ct);
            await using var owner = new NpgsqlConnection(access.Owner);
            await owner.OpenAsync(ct);
            await using var turn = await AdvisoryLock.TakeAsync(owner, ct);
            await MigrateAsync(access.Owner, ct);
            await DatabasePolicies.ApplyOrCompareAsync(owner, repair, ct);
            await DatabaseTallies.CountAsync(owner, ct);
            // Nothing serves as the owner: its connections end with the setup.
            NpgsqlConnection.ClearPool(owner);
        }
        catch (NpgsqlException e) when (e is not PostgresException)
        {
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

    /// <summary>Roles belong to the whole server, so their lock is taken in a database that all share.</summary>
    private static async Task MakeRolesAsync(NpgsqlConnectionStringBuilder owner, CancellationToken ct)
    {
        var shared = new NpgsqlConnectionStringBuilder(owner.ConnectionString) { Database = "postgres", Pooling = false };
        await using var connection = new NpgsqlConnection(shared.ConnectionString);
        await connection.OpenAsync(ct);
        await using var turn = await AdvisoryLock.TakeAsync(connection, ct);
        await DatabaseRoles.MakeAsync(connection, owner.Password!, ct);
    }

    private static async Task MigrateAsync(string ownerConnectionString, CancellationToken ct)
    {
        var options = new DbContextOptionsBuilder<SchoolDrillsDbContext>().UseNpgsql(ownerConnectionString).Options;
        await using var db = new SchoolDrillsDbContext(options);
        var unknown = (await db.Database.GetAppliedMigrationsAsync(ct)).Except(db.Database.GetMigrations()).ToList();
        if (unknown.Count > 0)
        {
            throw new StartupRefusedException(
                $"A newer SchoolDrills has changed this database ({unknown[^1]}): start that version, or restore a backup made before it."
            );
        }

        // An index of years of work takes its time.
        db.Database.SetCommandTimeout(TimeSpan.FromHours(1));
        await db.Database.MigrateAsync(ct);
    }

    /// <summary>Held by the session, so that it goes with the connection however the host ends.</summary>
    private sealed class AdvisoryLock(NpgsqlConnection connection) : IAsyncDisposable
    {
        public static async Task<AdvisoryLock> TakeAsync(NpgsqlConnection connection, CancellationToken ct)
        {
            await using var command = new NpgsqlCommand($"select pg_advisory_lock({LockNumber})", connection) { CommandTimeout = TurnS };
            await command.ExecuteNonQueryAsync(ct);
            return new AdvisoryLock(connection);
        }

        public async ValueTask DisposeAsync()
        {
            await using var command = new NpgsqlCommand($"select pg_advisory_unlock({LockNumber})", connection);
            await command.ExecuteNonQueryAsync();
        }
    }
}
