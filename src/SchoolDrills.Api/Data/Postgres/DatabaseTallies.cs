using Npgsql;

namespace SchoolDrills.Api.Data.Postgres;

/// <summary>
/// Counts what a school flew and keeps from before this version counted it. One school after the other, each in a transaction of its
/// own: hosts of the version before serve on meanwhile, and a start that was stopped goes on where it was.
/// </summary>
internal static class DatabaseTallies
{
    /// <summary>To be raised whenever <c>45-tallies.sql</c> or <c>46-storage.sql</c> of <c>db/policies</c> counts something new.</summary>
    private const int Version = 1;

    public static async Task CountAsync(NpgsqlConnection owner, CancellationToken ct)
    {
        foreach (var school in await UncountedAsync(owner, ct))
        {
            await using var transaction = await owner.BeginTransactionAsync(ct);
            await using var count = new NpgsqlCommand(
                $"""
                -- Or the triggers would add at the end what is counted here.
                set constraints all immediate;
                select set_config('app.school_id', '{school}', true);
                update attempts a set graded_at_utc = g.signed_at_utc from grades g
                  where a.school_id = '{school}' and g.attempt_id = a.id and g.number = 0 and g.signed_at_utc is not null
                    and a.graded_at_utc is null;
                update attempts a set has_air_data = true from score_reports r
                  where a.school_id = '{school}' and not a.has_air_data and r.id = a.latest_report_id
                    and r.report -> 'sources' ->> 'airspeed' = 'recorded';
                select tally.rebuild();
                -- Uploads wait at this row, or their bytes would be written over.
                select from schools where id = '{school}' for update;
                update schools s set tallies_version = {Version}, stored_bytes = (
                  select coalesce(sum(octet_length(content)), 0) from (
                    select content from track_files f where f.school_id = '{school}'
                    union all select content from pending_tracks p where p.school_id = '{school}') as recordings)
                  where s.id = '{school}'
                """,
                owner
            )
            {
                CommandTimeout = 0,
            };
            await count.ExecuteNonQueryAsync(ct);
            await transaction.CommitAsync(ct);
        }
    }

    private static async Task<List<Guid>> UncountedAsync(NpgsqlConnection owner, CancellationToken ct)
    {
        await using var command = new NpgsqlCommand($"select tally.uncounted_schools({Version})", owner);
        await using var reader = await command.ExecuteReaderAsync(ct);
        var schools = new List<Guid>();
        while (await reader.ReadAsync(ct))
            schools.Add(reader.GetGuid(0));
        return schools;
    }
}
