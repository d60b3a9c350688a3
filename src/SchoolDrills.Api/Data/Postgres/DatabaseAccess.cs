using System.Security.Cryptography;
using System.Text;
using Npgsql;

namespace SchoolDrills.Api.Data.Postgres;

/// <summary>
/// Connection strings by role. The owner's comes from configuration or the private server and is used while starting
/// only; the others' passwords are derived from the owner's, so that every host of one database knows them and
/// there is one secret to keep.
/// </summary>
/// <param name="Owner">Owns the tables; creates roles, migrates, puts up the policies.</param>
/// <param name="App">Serves requests, under row-level security.</param>
/// <param name="Jobs">Scores attempts, under row-level security, and reads no passwords.</param>
/// <param name="Accounts">Signs people in and keeps their accounts; the only one that reads secrets.</param>
/// <param name="Hangfire">The job queue's own schema and nothing else.</param>
internal sealed record DatabaseAccess(string Owner, string App, string Jobs, string Accounts, string Hangfire)
{
    public const string AppRole = "schooldrills_app";
    public const string JobsRole = "schooldrills_jobs";
    public const string AccountsRole = "schooldrills_accounts";
    public const string HangfireRole = "schooldrills_hangfire";

    /// <summary>Signs in nowhere; owns the functions of db/policies/30-lookup.sql.</summary>
    public const string LookupRole = "schooldrills_lookup";

    /// <summary>Signs in nowhere; owns the one function that may change what else never changes: db/policies/50-erasure.sql.</summary>
    public const string EraserRole = "schooldrills_eraser";

    public const string HangfireSchema = "hangfire";

    /// <exception cref="StartupRefusedException">The owner's connection string is malformed or has no password.</exception>
    public static DatabaseAccess From(string ownerConnectionString)
    {
        NpgsqlConnectionStringBuilder owner;
        try
        {
            owner = new NpgsqlConnectionStringBuilder(ownerConnectionString);
        }
        catch (ArgumentException e)
        {
            throw new StartupRefusedException($"ConnectionStrings:SchoolDrills cannot be read: {e.Message}", e);
        }

        if (string.IsNullOrEmpty(owner.Password) || string.IsNullOrEmpty(owner.Database))
        {
            throw new StartupRefusedException(
                "ConnectionStrings:SchoolDrills needs Host, Database, Username and Password of the role that owns the database."
            );
        }

        // Four pools of one host stay well below the server's usual hundred connections.
        return new DatabaseAccess(
            ownerConnectionString,
            For(owner, AppRole, maxPoolSize: 40),
            For(owner, JobsRole, maxPoolSize: 10),
            For(owner, AccountsRole, maxPoolSize: 10),
            For(owner, HangfireRole, maxPoolSize: 20)
        );
    }

    /// <summary>Password of a role, as derived from the owner's.</summary>
    public static string PasswordOf(string role, string ownerPassword) =>
        Convert.ToHexStringLower(HMACSHA256.HashData(Encoding.UTF8.GetBytes(ownerPassword), Encoding.UTF8.GetBytes(role)));

    private static string For(NpgsqlConnectionStringBuilder owner, string role, int maxPoolSize) =>
        new NpgsqlConnectionStringBuilder(owner.ConnectionString)
        {
            Username = role,
            Password = PasswordOf(role, owner.Password!),
            MaxPoolSize = maxPoolSize,
            // Whose rows a connection may see must end with its use, whatever the owner's string says.
            NoResetOnClose = false,
            // Planning under row-level security costs more than most queries do: each is planned once for a connection.
            MaxAutoPrepare = 100,
            AutoPrepareMinUsages = 2,
            ApplicationName = role,
        }.ConnectionString;
}
