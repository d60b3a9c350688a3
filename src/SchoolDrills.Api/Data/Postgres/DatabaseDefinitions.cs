using Npgsql;

namespace SchoolDrills.Api.Data.Postgres;

/// <summary>
/// What protects the rows, as the server's catalog has it: row-level security, policies, triggers, functions and rights. Kept in
/// <c>setup.definitions</c> once the scripts have run, so that a later start sees what was changed since.
/// </summary>
internal static class DatabaseDefinitions
{
    /// <summary>
    /// Each object with its definition; rights without the owner's, in a fixed order, so that a restored database has the same.
    /// </summary>
    private const string Current = """
        with relations as (
          select c.* from pg_class c where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p', 'v', 'm', 'f')
        ), rights as (
          select 'rights on ' || c.relname as object, a.grantee, a.privilege_type as what, a.is_grantable, c.relowner as owner
            from relations c, aclexplode(c.relacl) a
          union all
          select 'rights on ' || c.relname, x.grantee, x.privilege_type || ' ' || a.attname, x.is_grantable, c.relowner
            from relations c join pg_attribute a on a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped, aclexplode(a.attacl) x
          union all
          select 'rights on function ' || p.oid::regprocedure, a.grantee, a.privilege_type, a.is_grantable, p.proowner
            from pg_proc p, aclexplode(p.proacl) a
            where p.pronamespace in (select oid from pg_namespace where nspname in ('public', 'lookup', 'erasure', 'tally'))
          union all
          select 'rights on schema ' || n.nspname, a.grantee, a.privilege_type, a.is_grantable, n.nspowner
            from pg_namespace n, aclexplode(n.nspacl) a where n.nspname in ('public', 'lookup', 'erasure', 'tally', 'setup')
        )
        select 'row-level security on ' || relname, concat_ws(' ', relrowsecurity, relforcerowsecurity)
        from relations where relkind in ('r', 'p')
        union all
        select format('policy %s on %s', policyname, tablename),
            concat_ws(' | ', permissive, (select string_agg(r, ' ' order by r) from unnest(roles) r), cmd, qual, with_check)
          from pg_policies where schemaname = 'public'
        union all
        select format('trigger %s on %s', t.tgname, c.relname), concat_ws(' ', pg_get_triggerdef(t.oid), t.tgenabled)
          from pg_trigger t join relations c on c.oid = t.tgrelid where not t.tgisinternal
        union all
        select 'function ' || p.oid::regprocedure,
            md5(pg_get_functiondef(p.oid)) || case when n.nspname <> 'public' then ' ' || p.proowner::regrole else '' end
          from pg_proc p join pg_namespace n on n.oid = p.pronamespace where n.nspname in ('public', 'lookup', 'erasure', 'tally')
        union all
        select object, string_agg(concat_ws(' ', grantee::regrole, what, is_grantable), ', ' order by grantee::regrole::text, what)
          from rights where grantee <> owner group by object
        """;

    /// <summary>Takes what stands now for what is expected.</summary>
    public static Task KeepAsync(NpgsqlConnection owner, CancellationToken ct) =>
        ExecuteAsync(
            owner,
            $"""
            create table if not exists setup.definitions (object text primary key, definition text not null);
            delete from setup.definitions;
            insert into setup.definitions {Current};
            """,
            ct
        );

    /// <summary>What is not as it was kept, each in a few words; empty where all is.</summary>
    public static async Task<IReadOnlyList<string>> ChangesAsync(NpgsqlConnection owner, CancellationToken ct)
    {
        await using var command = new NpgsqlCommand(
            $"""
            with now (object, definition) as ({Current})
            select case
                when now.object is null then kept.object || ' is missing'
                when kept.object is null then now.object || ' was added'
                else now.object || ' was changed'
              end
            from now full join setup.definitions kept using (object)
            where now.definition is distinct from kept.definition
            order by 1
            """,
            owner
        );
        await using var reader = await command.ExecuteReaderAsync(ct);
        var changes = new List<string>();
        while (await reader.ReadAsync(ct))
            changes.Add(reader.GetString(0));
        return changes;
    }

    private static async Task ExecuteAsync(NpgsqlConnection connection, string sql, CancellationToken ct)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync(ct);
    }
}
