using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json.Nodes;
using OtpNet;
using SchoolDrills.Api.Operators;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Operators;

/// <summary>A school taken out of one installation and put into another.</summary>
public sealed class MovingTests : IAsyncLifetime
{
    private const string Tussock = "Tussock Plains Flying School";

    private readonly SchoolsFixture from = new();
    private readonly ApiFixture to = new();
    private readonly TemporaryFolder folder = new();

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private string Archive => Path.Combine(folder.FullPath, "tussock.school");

    public async ValueTask InitializeAsync()
    {
        await from.InitializeAsync();
        await to.InitializeAsync();
    }

    public async ValueTask DisposeAsync()
    {
        await from.DisposeAsync();
        await to.DisposeAsync();
        folder.Dispose();
    }

    [Fact]
    public async Task A_school_goes_over_with_its_work_its_trail_and_its_logins()
    {
        var graded = await from.ScoredAsync("timed-turns", "f13.csv");
        var waiting = await from.UploadAsync((await from.AssignAsync("racetrack")).Id, "f12.csv");
        var instructor = await from.AsAsync(SchoolsFixture.Instructor);
        await instructor.SaveGradeAsync(graded, new SaveGrade("to-standard", [], "Held it well.", Sign: true), Cancel);
        var chief = await from.AsAsync(SchoolsFixture.Chief);
        var score = (await chief.AttemptAsync(graded, Cancel)).Score!;
        var recording = await BytesAsync(from, graded);

        Assert.Contains("Keep it as a secret", await Operator.RunAsync(from, "export-school", Tussock, Archive), StringComparison.Ordinal);
        if (!OperatingSystem.IsWindows())
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(Archive));
        var printed = await Operator.RunAsync(to, "import-school", Archive);
        Assert.Contains("track_files", printed, StringComparison.Ordinal);

        var client = await SignInAsync(SchoolsFixture.Student, null);
        var there = await client.AttemptAsync(graded, Cancel);
        Assert.Equal((score.Overall.WithinShare, score.StartUtc), (there.Score!.Overall.WithinShare, there.Score.StartUtc));
        Assert.Equal("to-standard", there.Grade!.Overall);
        Assert.Equal(recording, await BytesAsync(to, graded));
        Assert.Equal(AttemptStatus.Queued, (await client.AttemptAsync(waiting, Cancel)).Status);
        // What is counted was counted anew.
        await using var raw = await RawSql.OpenAsync(to.Database.OwnerConnectionString);
        await using var source = await RawSql.OpenAsync(from.Database.OwnerConnectionString);
        foreach (
            var counted in (string[])
                [
                    "select stored_bytes from schools",
                    "select sum(attempts) from day_tallies",
                    "select sum(attempts) from student_tallies",
                    "select sum(attempts) from student_summaries",
                ]
        )
        {
            var where = counted.Contains("schools", StringComparison.Ordinal) ? "id" : "school_id";
            var sql = $"{counted} where {where} = '{from.TussockId}'";
            Assert.Equal((counted, await source.ScalarAsync(sql)), (counted, await raw.ScalarAsync(sql)));
        }

        // The trail came along in its order, with what the operator did at its end.
        const string trail = "select action from audit_entries order by id";
        var before = await source.ReadAsync(
            $"{trail.Replace(" order", $" where school_id = '{from.TussockId}' order", StringComparison.Ordinal)}"
        );
        Assert.Equal([.. before.SkipLast(1), "school-imported"], await raw.ReadAsync(trail));
        Assert.Equal("school-exported", before[^1]);
    }

    [Fact]
    public async Task An_authenticator_app_goes_on_giving_the_codes()
    {
        var chief = await from.AsAsync(SchoolsFixture.Chief);
        var begun = await chief.StartSecondFactorAsync(Cancel);
        var totp = new Totp(Base32Encoding.ToBytes(begun.Key));
        await chief.ConfirmSecondFactorAsync(totp.ComputeTotp(DateTime.UtcNow.AddSeconds(-30)), Cancel);
        await Operator.RunAsync(from, "export-school", Tussock, Archive);
        await Operator.RunAsync(to, "import-school", Archive);
        await SignInAsync(SchoolsFixture.Chief, totp.ComputeTotp());
    }

    [Fact]
    public async Task A_damaged_archive_a_school_that_is_there_and_another_schema_are_refused_and_nothing_is_left()
    {
        await from.UploadAsync((await from.AssignAsync("timed-turns")).Id, "f13.csv");
        await Operator.RunAsync(from, "export-school", Tussock, Archive);
        Assert.Contains("is there already", await Operator.RefusedAsync(from, "export-school", Tussock, Archive));
        Assert.Contains("is here already", await Operator.RefusedAsync(from, "import-school", Archive));

        var damaged = Path.Combine(folder.FullPath, "damaged.school");
        File.Copy(Archive, damaged);
        await using (var zip = await ZipFile.OpenAsync(damaged, ZipArchiveMode.Update, Cancel))
        {
            zip.GetEntry("tables/people")!.Delete();
            await using var people = await zip.CreateEntry("tables/people").OpenAsync(Cancel);
            await people.WriteAsync(new byte[100], Cancel);
        }

        Assert.Contains("is damaged (tables/people is not as it was written)", await Operator.RefusedAsync(to, "import-school", damaged));
        await File.WriteAllTextAsync(damaged, "no zip at all", Cancel);
        Assert.Contains("is no archive of a school", await Operator.RefusedAsync(to, "import-school", damaged));

        await using var raw = await RawSql.OpenAsync(to.Database.OwnerConnectionString);
        Assert.Contains(
            "upgrade this installation first",
            await Operator.RefusedAsync(to, "import-school", await OfSchemaAsync("29990101000000_Later"))
        );
        Assert.Contains(
            "upgrade the installation it comes from",
            await Operator.RefusedAsync(to, "import-school", await OfSchemaAsync("20200101000000_Earlier"))
        );
        // A row of it is here under another school: all or nothing.
        await raw.ExecuteAsync(
            $"insert into schools (id, name, time_zone, grade_scale, grading, instructors_see_own_students_only, instructors_draft, "
                + "retention_rules, retention_own_years, due_in_days, soon_days, digest_hour, start_dismissed) values "
                + $"('{Guid.NewGuid()}', 'Other', 'UTC', '[]', '{{}}', false, false, '{{}}', 0, 7, 2, 7, false)"
        );
        await raw.ExecuteAsync(
            "insert into people (id, school_id, display_name, roles, has_accepted, two_factor_enabled, active, legal_hold) "
                + $"select '{from.IdOf(SchoolsFixture.Student)}', id, 'Clash', '{{}}', false, false, true, false from schools"
        );
        Assert.Contains("a row of people clashes", await Operator.RefusedAsync(to, "import-school", Archive));
        Assert.Equal(1L, await raw.CountAsync("schools"));
        Assert.Equal(0L, await raw.CountAsync("attempts"));
    }

    [Fact]
    public async Task Every_table_and_column_of_a_school_is_archived_or_left_out_for_a_reason()
    {
        await Operator.RunAsync(from, "export-school", Tussock, Archive);
        await using var archive = await ArchiveFile.OpenAsync(Archive, Cancel);
        await using var raw = await RawSql.OpenAsync(from.Database.OwnerConnectionString);
        var tables = (await SchoolRows.TablesAsync(raw.Connection, Cancel)).Select(t => t.Table).ToList();
        var archived = archive.Manifest.Tables.ToDictionary(t => t.Name, t => t.Columns);
        Assert.Equal(
            tables.Order(StringComparer.Ordinal),
            archived.Keys.Concat(ArchiveFormat.LeftOutTables.Keys).Order(StringComparer.Ordinal)
        );
        Assert.All(ArchiveFormat.LeftOutTables.Concat(ArchiveFormat.LeftOutColumns), left => Assert.NotEmpty(left.Value));
        var columns = await raw.ReadAsync(
            """
            select table_name || '.' || column_name from information_schema.columns
            where table_schema = 'public' and is_generated = 'NEVER' and is_identity = 'NO'
            """
        );
        Assert.Equal(
            columns.Where(c => archived.ContainsKey(c.Split('.')[0])).Order(StringComparer.Ordinal),
            archived
                .SelectMany(t => t.Value.Select(c => $"{t.Key}.{c}"))
                .Concat(ArchiveFormat.LeftOutColumns.Keys)
                .Order(StringComparer.Ordinal)
        );
    }

    /// <summary>The archive as a version with another last migration would have made it.</summary>
    private async Task<string> OfSchemaAsync(string migration)
    {
        var file = Path.Combine(folder.FullPath, migration);
        File.Copy(Archive, file);
        await using var zip = await ZipFile.OpenAsync(file, ZipArchiveMode.Update, Cancel);
        string text;
        using (var reader = new StreamReader(await zip.GetEntry(ArchiveFormat.Manifest)!.OpenAsync(Cancel)))
            text = await reader.ReadToEndAsync(Cancel);
        var manifest = JsonNode.Parse(text)!;
        manifest["schema"] = migration;
        var bytes = Encoding.UTF8.GetBytes(manifest.ToJsonString());
        await PutAsync(ArchiveFormat.Manifest, bytes);
        await PutAsync(ArchiveFormat.ManifestSha256, Encoding.ASCII.GetBytes(Convert.ToHexStringLower(SHA256.HashData(bytes))));
        return file;

        async Task PutAsync(string name, byte[] content)
        {
            zip.GetEntry(name)!.Delete();
            await using var part = await zip.CreateEntry(name).OpenAsync(Cancel);
            await part.WriteAsync(content, Cancel);
        }
    }

    private async Task<SchoolDrillsClient> SignInAsync(string person, string? code)
    {
        var http = to.CreateClient();
        var session = await new SchoolDrillsClient(http).SignInAsync(
            new SignIn(SchoolsFixture.EmailOf(person), SchoolsFixture.Password, Code: code),
            Cancel
        );
        http.DefaultRequestHeaders.Authorization = new("Bearer", session.AccessToken);
        return new SchoolDrillsClient(http);
    }

    private static async Task<string> BytesAsync(ApiFixture app, Guid attempt)
    {
        await using var raw = await RawSql.OpenAsync(app.Database.OwnerConnectionString);
        return (string)(await raw.ScalarAsync($"select encode(sha256(content), 'hex') from track_files where attempt_id = '{attempt}'"))!;
    }
}
