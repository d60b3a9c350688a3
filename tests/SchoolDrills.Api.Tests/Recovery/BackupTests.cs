using System.Security.Cryptography;
using Npgsql;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Api.Tests.Upgrades;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Recovery;

/// <summary>db/backup.sh and db/restore.sh on a private database, as an operator runs them.</summary>
public sealed class BackupTests(PrivateSchool app) : IClassFixture<PrivateSchool>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_backup_restored_into_a_fresh_folder_has_every_row_and_recording_and_serves()
    {
        var (file, fresh) = (app.At("whole.backup"), app.At("fresh"));
        var seen = await app.ReadAsync(app.Graded);
        var before = await Fingerprint.OfAsync(app.Owner);
        Assert.All(
            (string[])["attempts", "track_files", "score_reports", "grades", "audit_entries", "student_notes", "pending_tracks"],
            table => Assert.False(before["public." + table].StartsWith("0 ", StringComparison.Ordinal), table)
        );
        Assert.StartsWith($"Backed up to {file} (", await DatabaseScript.DoneAsync(app.Data, "backup.sh", file));
        Assert.Equal(before, await Fingerprint.OfAsync(app.Owner));

        await using (var server = await FreshAsync(fresh))
        {
            await DatabaseScript.DoneAsync(fresh, "restore.sh", file);
            Assert.Equal(before, await Fingerprint.OfAsync(server.OwnerConnectionString));
        }

        await PrivateSchool.ServeAsync(fresh, async http => Assert.Equal(seen, await PrivateSchool.ReadAsync(http, app.Graded)));
    }

    [Fact]
    public async Task A_backup_while_recordings_come_in_has_each_of_them_whole_or_not_at_all()
    {
        var (file, fresh) = (app.At("busy.backup"), app.At("busy"));
        var assignment = await app.AssignAsync("timed-turns", SchoolsFixture.OtherStudent);
        var student = await app.AsAsync(SchoolsFixture.OtherStudent);
        var text = await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "Recordings", "f13.csv"), Cancel);
        var accepted = new List<Guid>();
        var number = 0;
        async Task SendAsync()
        {
            // Blank lines at the end: other bytes, the same flight.
            using var track = new MemoryStream(System.Text.Encoding.UTF8.GetBytes(text + new string('\n', ++number)));
            accepted.Add((await student.UploadAsync(assignment.Id, track, "f13.csv", new AttemptMeta(), Cancel)).AttemptId);
        }

        await SendAsync();
        await SendAsync();
        var earlier = accepted.ToList();
        var backup = DatabaseScript.DoneAsync(app.Data, "backup.sh", file);
        while (!backup.IsCompleted)
            await SendAsync();
        await backup;
        Assert.True(accepted.Count > earlier.Count);

        await using var server = await FreshAsync(fresh);
        await DatabaseScript.DoneAsync(fresh, "restore.sh", file);
        await using var restored = await RawSql.OpenAsync(server.OwnerConnectionString);
        var kept = await restored.ReadAsync("select id::text from attempts");
        Assert.Empty(earlier.Select(id => id.ToString()).Except(kept));
        Assert.Equal(
            kept.Order(StringComparer.Ordinal),
            await restored.ReadAsync(
                """
                select a.id::text from attempts a join track_files f on f.attempt_id = a.id
                join audit_entries e on e.subject_id = a.id and e.action = 'attempt-uploaded' order by a.id::text collate "C"
                """
            )
        );
    }

    [Fact]
    public async Task A_backup_of_the_first_version_goes_into_an_installation_of_this_one_and_is_brought_up_to_date()
    {
        var (old, file, fresh) = (app.At("old"), app.At("old.backup"), app.At("upgraded"));
        Dictionary<string, List<string>> before;
        await using (var server = await PrivatePostgres.StartAsync(old, ct: Cancel))
        {
            await using var owner = await RawSql.OpenAsync(server.OwnerConnectionString);
            await DatabaseRoles.MakeAsync(
                owner.Connection,
                new NpgsqlConnectionStringBuilder(server.OwnerConnectionString).Password!,
                Cancel
            );
            await owner.ExecuteAsync(await TestServer.DumpAsync("first-schema.sql.gz"));
            // The dump empties the search path of its session.
            await owner.ExecuteAsync("reset all");
            before = await FirstSchoolFixture.RowsAsync(owner);
            await DatabaseScript.DoneAsync(old, "backup.sh", file);
        }

        await using (await FreshAsync(fresh))
            await DatabaseScript.DoneAsync(fresh, "restore.sh", file);
        await PrivateSchool.ServeAsync(
            fresh,
            async http =>
            {
                var attempts = await new SchoolDrillsClient(http).AttemptsAsync(drillSlug: "timed-turns", ct: Cancel);
                var attempt = Assert.Single(attempts.Items);
                await using var sent = SchoolsFixture.Recording("f13.csv");
                Assert.Equal(
                    Convert.ToHexStringLower(await SHA256.HashDataAsync(sent, Cancel)),
                    (await PrivateSchool.ReadAsync(http, attempt.AttemptId)).Recording
                );
            },
            new SignIn("student@oldridge.example", FirstSchoolFixture.Password)
        );
        await using var upgraded = await PrivatePostgres.StartAsync(fresh, ct: Cancel);
        await using var now = await RawSql.OpenAsync(upgraded.OwnerConnectionString);
        await UpgradeTests.AssertKeptAsync(before, now);
    }

    [Fact]
    public async Task A_damaged_backup_is_refused_in_a_sentence_and_the_present_database_stays()
    {
        var file = app.At("good.backup");
        await DatabaseScript.DoneAsync(app.Data, "backup.sh", file);
        var (whole, sum) = (await File.ReadAllBytesAsync(file, Cancel), await File.ReadAllTextAsync(file + ".sha256", Cancel));
        var turned = whole.ToArray();
        turned[turned.Length / 2] ^= 0x10;
        var before = await Fingerprint.OfAsync(app.Owner);
        async Task<string> RefusalAsync(string name, byte[] bytes, bool summed)
        {
            await File.WriteAllBytesAsync(app.At(name), bytes, Cancel);
            if (summed)
                await File.WriteAllTextAsync(app.At(name) + ".sha256", sum, Cancel);
            return (await DatabaseScript.RefusedAsync(app.Data, "restore.sh", app.At(name))).Replace(app.At(name), "FILE");
        }

        const string Untouched = "; the present database is untouched.";
        Assert.Equal(
            "FILE is not what was backed up (its SHA-256 is not that of FILE.sha256)" + Untouched,
            await RefusalAsync("turned", turned, summed: true)
        );
        Assert.Equal("The backup could not be restored" + Untouched, await RefusalAsync("cut", whole[..^1000], summed: false));
        Assert.Equal("FILE is no backup, or a damaged one" + Untouched, await RefusalAsync("short", whole[..40], summed: false));
        Assert.Equal("FILE is no backup, or a damaged one" + Untouched, await RefusalAsync("text", "hello"u8.ToArray(), summed: false));
        Assert.Equal(
            $"No backup in {app.At("nowhere")}{Untouched}",
            await DatabaseScript.RefusedAsync(app.Data, "restore.sh", app.At("nowhere"))
        );
        Assert.Equal(before, await Fingerprint.OfAsync(app.Owner));
        await using var owner = await RawSql.OpenAsync(app.Owner);
        Assert.Empty(await owner.ReadAsync("select datname from pg_database where datname like 'schooldrills\\_restored%'"));
    }

    [Fact]
    public async Task A_full_disk_leaves_no_file_that_looks_whole()
    {
        Assert.SkipUnless(File.Exists("/dev/full"), "A disk that is always full is Linux's.");
        var file = app.At("full.backup");
        File.CreateSymbolicLink(file + ".unfinished", "/dev/full");
        Assert.Equal(
            $"Nothing was backed up to {file}: put right what is said above, and back up again.",
            await DatabaseScript.RefusedAsync(app.Data, "backup.sh", file)
        );
        Assert.Empty(Directory.EnumerateFiles(Path.GetDirectoryName(file)!, "full.backup*"));
    }

    [Fact]
    public async Task A_restore_that_is_killed_leaves_the_present_database_and_the_next_one_succeeds()
    {
        var (file, fresh) = (app.At("again.backup"), app.At("killed"));
        await DatabaseScript.DoneAsync(app.Data, "backup.sh", file);
        var whole = await Fingerprint.OfAsync(app.Owner);
        await using var server = await FreshAsync(fresh);
        var before = await Fingerprint.OfAsync(server.OwnerConnectionString);
        await using var template = await RawSql.OpenAsync(
            new NpgsqlConnectionStringBuilder(server.OwnerConnectionString) { Database = "template1" }.ConnectionString
        );
        // So slow that it is surely killed in the middle: each database that is made has it from its template.
        await template.ExecuteAsync(
            """
            create function slow() returns event_trigger language plpgsql as $$ begin perform pg_sleep(600); end $$;
            create event trigger slow on ddl_command_start when tag in ('CREATE TABLE') execute function slow()
            """
        );
        await template.DisposeAsync();
        await using var owner = await RawSql.OpenAsync(server.OwnerConnectionString);
        const string Left =
            "select datname from pg_stat_activity where datname like 'schooldrills\\_restored%' and query like 'CREATE TABLE%'";
        using (var restore = DatabaseScript.Start(fresh, "restore.sh", file))
        {
            while ((await owner.ReadAsync(Left)).Count == 0)
                Assert.False(restore.HasExited);
            restore.Kill(entireProcessTree: true);
            await restore.WaitForExitAsync(Cancel);
        }

        Assert.Equal(before, await Fingerprint.OfAsync(server.OwnerConnectionString));
        await owner.ReadAsync(
            "select pg_terminate_backend(pid, 10000)::text from pg_stat_activity where datname like 'schooldrills\\_restored%'"
        );
        await using (
            var again = await RawSql.OpenAsync(
                new NpgsqlConnectionStringBuilder(server.OwnerConnectionString) { Database = "template1" }.ConnectionString
            )
        )
        {
            await again.ExecuteAsync("drop event trigger slow; drop function slow()");
        }

        await owner.DisposeAsync();
        await DatabaseScript.DoneAsync(fresh, "restore.sh", file);
        Assert.Equal(whole, await Fingerprint.OfAsync(server.OwnerConnectionString));
        await using var after = await RawSql.OpenAsync(server.OwnerConnectionString);
        var databases = await after.ReadAsync("select datname from pg_database where datname like 'schooldrills%' order by datname");
        Assert.Equal(["schooldrills", "schooldrills_before"], databases.ConvertAll(d => d.TrimEnd("_0123456789".ToCharArray())));
    }

    /// <summary>A data folder as a first start leaves it.</summary>
    private static async Task<PrivatePostgres> FreshAsync(string data)
    {
        var server = await PrivatePostgres.StartAsync(data, ct: Cancel);
        await DatabaseSetup.PrepareAsync(DatabaseAccess.From(server.OwnerConnectionString), ct: Cancel);
        return server;
    }
}
