using System.Net;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Api.Tests.Data;
using Xunit;

namespace SchoolDrills.Api.Tests.Recovery;

/// <summary>The log of a private database, archived, brings back the moment before a disaster, and all after it.</summary>
public sealed class PointInTimeTests(PrivateSchool app) : IClassFixture<PrivateSchool>
{
    private const string Now = "select to_char(clock_timestamp() at time zone 'utc', 'YYYY-MM-DD HH24:MI:SS.US') || '+00'";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Work_that_was_deleted_is_back_in_a_fresh_folder_and_what_came_later_is_found_at_the_end_of_the_log()
    {
        string tooEarly,
            before;
        string[] bases = ["", ""];
        Guid first,
            second;
        (string Attempt, string Recording) seen;
        SortedDictionary<string, string> whole,
            last;
        await using (var owner = await RawSql.OpenAsync(app.Owner))
        {
            tooEarly = Assert.Single(await owner.ReadAsync(Now));
            bases[0] = await BaseAsync();
            first = await app.GradedAsync("f13.gpx");
            seen = await app.ReadAsync(first);
            whole = await Fingerprint.OfAsync(app.Owner);
            before = Assert.Single(await owner.ReadAsync(Now));

            // The disaster: somebody with the owner's password, past every trigger.
            await owner.ExecuteAsync(
                $"""
                set session_replication_role = replica;
                delete from track_files where attempt_id = '{first}';
                delete from score_reports where attempt_id = '{first}';
                delete from attempts where id = '{first}';
                set session_replication_role = origin;
                drop table student_notes cascade
                """
            );
            second = await app.ScoredAsync("racetrack", "f12.gpx");
            bases[1] = await BaseAsync();
            await app.AssignAsync("timed-turns");
            last = await Fingerprint.OfAsync(app.Owner);
            Assert.Equal("0", Assert.Single(await owner.ReadAsync("select failed_count::text from pg_stat_archiver")));
        }

        // A server that ends cleanly archives what is left of its log.
        await app.StopDatabaseAsync();
        Assert.Empty(Directory.EnumerateFiles(app.Archive, "*.unfinished"));

        var past = app.At("past");
        var said = await DatabaseScript.DoneAsync(app.Data, "recover-to.sh", bases[0], app.Archive, before, past);
        Assert.StartsWith($"Recovered to {before} in {past}; the last change in it is of ", said);
        Assert.Equal(Fingerprint.Rows(whole), Fingerprint.Rows(await FingerprintAsync(past)));
        await PrivateSchool.ServeAsync(
            past,
            async http =>
            {
                Assert.Equal(seen.Recording, (await PrivateSchool.ReadAsync(http, first)).Recording);
                Assert.Equal(seen.Attempt, (await PrivateSchool.ReadAsync(http, first)).Attempt);
                using var later = await http.GetAsync($"/api/v1/attempts/{second}", Cancel);
                Assert.Equal(HttpStatusCode.NotFound, later.StatusCode);
            }
        );

        await RefusesAsync(bases[0], tooEarly);

        // With the newer copy alone, the older one and its log being gone.
        var pieces = Directory.GetFiles(app.Archive).Length;
        Assert.StartsWith($"Removed {bases[0]}.", await DatabaseScript.DoneAsync(app.Data, "forget-before.sh", bases[1], app.Archive));
        Assert.False(Directory.Exists(bases[0]));
        Assert.InRange(Directory.GetFiles(app.Archive).Length, 1, pieces - 1);
        var end = app.At("end");
        Directory.CreateDirectory(end);
        await DatabaseScript.DoneAsync(app.Data, "recover-to.sh", bases[1], app.Archive, "latest", end);
        Assert.Equal(Fingerprint.Rows(last), Fingerprint.Rows(await FingerprintAsync(end)));
        Assert.True(last.ContainsKey("public.attempts"));
        Assert.False(last.ContainsKey("public.student_notes"));
    }

    private async Task RefusesAsync(string copy, string tooEarly)
    {
        var target = app.At("refused");
        Task<string> RefusalAsync(string from, string time) =>
            DatabaseScript.RefusedAsync(app.Data, "recover-to.sh", from, app.Archive, time, target);

        Assert.Equal($"{copy} was made after {tooEarly}: begin with an earlier copy.", await RefusalAsync(copy, tooEarly));
        Assert.Equal(
            "The archived log ends before 2199-01-01 00:00+00: stop SchoolDrills, which archives what is left, and try again, "
                + "or give latest.",
            await RefusalAsync(copy, "2199-01-01 00:00+00")
        );
        Assert.Equal(
            "Give the time with its zone, as \"2026-11-28 18:30:00+13\", or latest; 'yesterday' is not of that form.",
            await RefusalAsync(copy, "yesterday")
        );
        Assert.Equal("There is no such time as 2026-13-01 00:00Z.", await RefusalAsync(copy, "2026-13-01 00:00Z"));
        var damaged = app.At("damaged");
        Directory.CreateDirectory(damaged);
        foreach (var file in Directory.EnumerateFiles(copy))
            File.Copy(file, Path.Combine(damaged, Path.GetFileName(file)));
        var archive = Path.Combine(damaged, "base.tar.gz");
        var bytes = await File.ReadAllBytesAsync(archive, Cancel);
        bytes[bytes.Length / 2] ^= 0x10;
        await File.WriteAllBytesAsync(archive, bytes, Cancel);
        Assert.Equal($"{damaged} is damaged: take another copy.", await RefusalAsync(damaged, "latest"));
        // Told, and never taken for the end of the log.
        var log = app.At("damaged log");
        Directory.CreateDirectory(log);
        foreach (var piece in Directory.EnumerateFiles(app.Archive))
            await File.WriteAllTextAsync(Path.Combine(log, Path.GetFileName(piece)), "torn", Cancel);
        Assert.StartsWith(
            "The recovery failed: could not restore file ",
            await DatabaseScript.RefusedAsync(app.Data, "recover-to.sh", copy, log, "latest", target)
        );
        Assert.False(Directory.Exists(target));
        Assert.Equal(
            $"{app.Data} is not empty: name a folder that is, or is not there yet.",
            await DatabaseScript.RefusedAsync(app.Data, "recover-to.sh", copy, app.Archive, "latest", app.Data)
        );
    }

    private async Task<string> BaseAsync()
    {
        var said = await DatabaseScript.DoneAsync(app.Data, "base-backup.sh", app.At("bases"));
        return said["Copied to ".Length..said.IndexOf(" (", StringComparison.Ordinal)];
    }

    private static async Task<SortedDictionary<string, string>> FingerprintAsync(string data)
    {
        await using var server = await PrivatePostgres.StartAsync(data, ct: Cancel);
        return await Fingerprint.OfAsync(server.OwnerConnectionString);
    }
}
