using System.Security.Cryptography;
using System.Text;
using Npgsql;

namespace SchoolDrills.Api.Data.Postgres;

/// <summary>The scripts of db/policies, run where they or the tables changed, and compared with the database where they did not.</summary>
internal static class DatabasePolicies
{
    private const string Resources = "SchoolDrills.Api.db.policies.";

    /// <summary>
    /// Running them takes locks on tables that another host may be serving from, so it is not done at every start.
    /// </summary>
    /// <param name="repair">Whether an operator asked for them to run in any case.</param>
    /// <exception cref="StartupRefusedException">Somebody changed what they had set up.</exception>
    public static async Task ApplyOrCompareAsync(NpgsqlConnection owner, bool repair, CancellationToken ct)
    {
        var scripts = Read();
        // A newer server may print the same definition in other words.
        var setting = await ScalarAsync(
            owner,
            """
            select current_setting('server_version_num')::int / 10000 || ' '
            || string_agg(c.relname || '.' || attname, ',' order by c.relname, attname)
            from pg_attribute join pg_class c on c.oid = attrelid
            where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p') and attnum > 0 and not attisdropped
            """,
            ct
        );
        var fingerprint = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Concat(scripts) + setting)));
        if (repair || await ScalarAsync(owner, "select obj_description(to_regnamespace('setup'), 'pg_namespace')", ct) != fingerprint)
            await ApplyAsync(owner, scripts, fingerprint, ct);
        else
            await CompareAsync(owner, ct);
    }

    private static async Task ApplyAsync(NpgsqlConnection owner, IEnumerable<string> scripts, string fingerprint, CancellationToken ct)
    {
        await using var transaction = await owner.BeginTransactionAsync(ct);
        foreach (var script in scripts)
            await ExecuteAsync(owner, script, ct);
        await DatabaseDefinitions.KeepAsync(owner, ct);
        await ExecuteAsync(owner, $"comment on schema setup is '{fingerprint}'", ct);
        await transaction.CommitAsync(ct);
    }

    private static async Task CompareAsync(NpgsqlConnection owner, CancellationToken ct)
    {
        var changes = await DatabaseDefinitions.ChangesAsync(owner, ct);
        if (changes.Count > 0)
        {
            throw new StartupRefusedException(
                $"The database is not as SchoolDrills set it up ({string.Join("; ", changes)}): "
                    + "find out who changed it, then start once with SCHOOLDRILLS_REPAIR=1 to have it set up again."
            );
        }
    }

    private static List<string> Read()
    {
        var assembly = typeof(DatabasePolicies).Assembly;
        var scripts = new List<string>();
        foreach (
            var name in assembly
                .GetManifestResourceNames()
                .Where(n => n.StartsWith(Resources, StringComparison.Ordinal))
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
}
