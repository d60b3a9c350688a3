using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using Npgsql;
using SchoolDrills.Contracts;

namespace SchoolDrills.Faults;

/// <summary>What is there in the end, against what was accepted.</summary>
/// <param name="Lost">Accepted, and not there or not with the bytes that were sent.</param>
/// <param name="Doubled">Kept twice, or accepted twice under different ids.</param>
/// <param name="Unscored">There, and not scored.</param>
/// <param name="Unaudited">There without one audit entry of its own, no more and no less.</param>
/// <param name="Unanswered">Kept although nobody was told: the sender gave up.</param>
/// <param name="Jobs">Jobs that wait, run or failed, by state.</param>
/// <param name="LongestScoringS">From upload to score, the longest, seconds; where no clock was wrong.</param>
internal sealed record Verdict(
    IReadOnlyList<string> Lost,
    IReadOnlyList<string> Doubled,
    IReadOnlyList<string> Unscored,
    IReadOnlyList<string> Unaudited,
    int Unanswered,
    IReadOnlyList<string> Jobs,
    int Unclear,
    int GivenUp,
    double LongestScoringS,
    TimeSpan CalmAfter,
    int PageConnections,
    bool PageIsOpen
)
{
    public bool IsGood => Lost.Count + Doubled.Count + Unscored.Count + Unaudited.Count + Jobs.Count + Unclear + GivenUp == 0 && PageIsOpen;
}

/// <summary>Looks through the API as a client does, and into the database past it.</summary>
internal static class FinalCheck
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(5);

    public static async Task<Verdict> RunAsync(Site site, School school, Ledger ledger, PageConnection page, CancellationToken ct)
    {
        var since = Stopwatch.StartNew();
        await CalmAsync(site, page, ct);
        var calmAfter = since.Elapsed;
        await using var database = await site.OpenDatabaseAsync(ct);
        var accepted = ledger.Accepted.ToList();
        var ids = accepted.Select(a => a.AttemptId).ToHashSet();
        var kept = await RowsAsync(database, "select id::text, sha256, status, file_name from attempts", ct);
        var audited = (
            await RowsAsync(
                database,
                "select subject_id::text, count(*)::text from audit_entries where action = 'attempt-uploaded' group by subject_id",
                ct
            )
        ).ToDictionary(r => r[0], r => r[1]);
        return new Verdict(
            await LostAsync(site, school, accepted, ct),
            [
                .. kept.GroupBy(r => r[1])
                    .Where(same => same.Count() > 1)
                    .Select(same => $"{same.First()[3]} is kept {same.Count()} times"),
                .. accepted
                    .GroupBy(a => a.Number)
                    .Where(same => same.Select(a => a.AttemptId).Distinct().Count() > 1)
                    .Select(same => $"upload {same.Key} was accepted as several attempts"),
            ],
            [.. kept.Where(r => r[2] != "scored").Select(r => $"{r[3]} is {r[2]}")],
            [
                .. kept.Where(r => audited.GetValueOrDefault(r[0]) != "1")
                    .Select(r => $"{r[3]} has {audited.GetValueOrDefault(r[0], "0")} audit entries"),
                .. audited.Keys.Except(kept.Select(r => r[0])).Select(id => $"an entry tells of attempt {id}, which is not there"),
            ],
            kept.Count(r => !ids.Contains(Guid.Parse(r[0]))),
            [.. (await RowsAsync(database, HangingJobs, ct)).Select(r => $"{r[0]}: {r[1]}")],
            ledger.Unclear.Count,
            ledger.GivenUp.Count,
            await LongestScoringAsync(database, ct),
            calmAfter,
            page.Made,
            page.IsOpen
        );
    }

    /// <summary>A sweep may be queued at any moment; what has been so for two minutes hangs.</summary>
    private const string HangingJobs = """
        select j.statename, count(*)::text from hangfire.job j join hangfire.state s on s.id = j.stateid
        where j.statename = 'Failed'
           or j.statename in ('Enqueued', 'Processing', 'Scheduled', 'Awaiting') and s.createdat < now() - interval '2 minutes'
        group by j.statename
        """;

    /// <summary>Waits until everything is scored and no job is left, or until patience ends.</summary>
    private static async Task CalmAsync(Site site, PageConnection page, CancellationToken ct)
    {
        for (var since = Stopwatch.StartNew(); since.Elapsed < Patience; await Task.Delay(500, ct))
        {
            try
            {
                await using var database = await site.OpenDatabaseAsync(ct);
                var left = await RowsAsync(
                    database,
                    """
                    select count(*)::text from attempts where status in ('queued', 'scoring')
                    union all
                    select count(*)::text from hangfire.job where statename in ('Enqueued', 'Processing', 'Scheduled', 'Awaiting')
                    """,
                    ct
                );
                if (left.TrueForAll(r => r[0] == "0") && page.IsOpen && site.Hosts.All(h => h.Address is not null))
                    return;
            }
            catch (NpgsqlException)
            {
                // Being started again.
            }
        }
    }

    /// <summary>Fetches each recording as the student who sent it.</summary>
    private static async Task<IReadOnlyList<string>> LostAsync(Site site, School school, List<Accepted> accepted, CancellationToken ct)
    {
        var lost = new List<string>();
        foreach (var student in school.Students)
        {
            using var http = new HttpClient(new RetryHandler { InnerHandler = new SocketsHttpHandler() })
            {
                BaseAddress = site.Proxy.Address,
            };
            await School.SignInAsync(http, student.Email, ct);
            foreach (var upload in accepted.Where(a => a.By == student).DistinctBy(a => a.AttemptId))
            {
                using var answer = await http.GetAsync(
                    new Uri($"/api/v1/attempts/{upload.AttemptId}/track/original", UriKind.Relative),
                    ct
                );
                var sha256 = Convert.ToHexStringLower(await SHA256.HashDataAsync(await answer.Content.ReadAsStreamAsync(ct), ct));
                if (!answer.IsSuccessStatusCode)
                    lost.Add(string.Create(CultureInfo.InvariantCulture, $"upload {upload.Number}: {(int)answer.StatusCode}"));
                else if (sha256 != upload.Sha256)
                    lost.Add($"upload {upload.Number} has other bytes");
            }
        }

        return lost;
    }

    private static async Task<double> LongestScoringAsync(NpgsqlConnection database, CancellationToken ct)
    {
        await using var command = new NpgsqlCommand(
            """
            select coalesce(max(extract(epoch from r.first_at - a.uploaded_at_utc)), 0)::float8 from attempts a
            join (select attempt_id, min(scored_at_utc) as first_at from score_reports group by attempt_id) r on r.attempt_id = a.id
            where r.first_at - a.uploaded_at_utc between interval '0' and interval '1 hour'
            """,
            database
        );
        return (double)(await command.ExecuteScalarAsync(ct))!;
    }

    private static async Task<List<string[]>> RowsAsync(NpgsqlConnection database, string sql, CancellationToken ct)
    {
        await using var command = new NpgsqlCommand(sql, database);
        await using var reader = await command.ExecuteReaderAsync(ct);
        var rows = new List<string[]>();
        while (await reader.ReadAsync(ct))
            rows.Add([.. Enumerable.Range(0, reader.FieldCount).Select(reader.GetString)]);
        return rows;
    }
}
