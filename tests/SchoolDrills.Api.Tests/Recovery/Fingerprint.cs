using SchoolDrills.Api.Tests.Data;

namespace SchoolDrills.Api.Tests.Recovery;

/// <summary>Every row of every table of a database, as a count and a SHA-256 for each table that the catalogue knows.</summary>
internal static class Fingerprint
{
    private const string Sequence = "sequence ";

    /// <summary>Without how far sequences are: a recovery from the log leaves out up to 32 of their numbers.</summary>
    public static IEnumerable<KeyValuePair<string, string>> Rows(SortedDictionary<string, string> found) =>
        found.Where(f => !f.Key.StartsWith(Sequence, StringComparison.Ordinal));

    public static async Task<SortedDictionary<string, string>> OfAsync(string ownerConnectionString)
    {
        await using var owner = await RawSql.OpenAsync(ownerConnectionString);
        var found = new SortedDictionary<string, string>(StringComparer.Ordinal);
        var tables = await owner.ReadAsync(
            """
            select format('%I.%I', nspname, relname) from pg_class join pg_namespace n on n.oid = relnamespace
            where relkind in ('r', 'p', 'm') and nspname not like 'pg\_%' and nspname <> 'information_schema'
              -- The word that a backup leaves of itself once it is made.
              and (nspname, relname) <> ('setup', 'backups')
            """
        );
        foreach (var table in tables)
        {
            found[table] = (string)
                (
                    await owner.ScalarAsync(
                        $"""
                        select count(*) || ' ' || encode(sha256(convert_to(
                          coalesce(string_agg(t::text, E'\n' order by t::text collate "C"), ''), 'UTF8')), 'hex') from {table} t
                        """
                    )
                )!;
        }

        foreach (
            var sequence in await owner.ReadAsync(
                "select concat_ws(' ', schemaname, sequencename, last_value) from pg_sequences order by 1"
            )
        )
        {
            found[Sequence + sequence] = "";
        }

        return found;
    }
}
