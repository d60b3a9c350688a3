using System.Security.Cryptography;
using System.Text.Json.Nodes;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Api.Tests.Upgrades;

/// <summary>A school that began with the first version starts this one, and has everything it had.</summary>
public sealed class UpgradeTests(FirstSchoolFixture app) : IClassFixture<FirstSchoolFixture>
{
    /// <summary>Columns of the first schema that are elsewhere now, or nowhere.</summary>
    private static readonly Dictionary<string, string> Moved = new()
    {
        ["people.access_failed_count"] = "wrong passwords are counted by address and visitor",
        ["people.authenticator_key"] = "credentials",
        ["people.concurrency_stamp"] = "credentials",
        ["people.email_confirmed"] = "people.has_accepted",
        ["people.last_code_step"] = "credentials",
        ["people.lockout_enabled"] = "nobody is locked out",
        ["people.lockout_end"] = "nobody is locked out",
        ["people.normalized_user_name"] = "the address, as before",
        ["people.password_hash"] = "credentials",
        ["people.phone_number"] = "never asked for",
        ["people.phone_number_confirmed"] = "never asked for",
        ["people.recovery_code_hashes"] = "credentials",
        ["people.security_stamp"] = "credentials",
        ["people.user_name"] = "the address, as before",
    };

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Every_row_of_the_first_schema_is_there_with_what_it_held()
    {
        Assert.Equal(4, app.Before["score_reports"].Count);
        Assert.Equal(21, app.Before["audit_entries"].Count);
        await using var owner = await RawSql.OpenAsync(app.Database.OwnerConnectionString);
        await AssertKeptAsync(app.Before, owner);
    }

    /// <summary>Every row of the first schema is in an upgraded database, but for the columns that moved.</summary>
    internal static async Task AssertKeptAsync(Dictionary<string, List<string>> rows, RawSql owner)
    {
        var gone = new HashSet<string>();
        foreach (var (table, before) in rows)
        {
            var left = (await owner.ReadAsync($"select to_jsonb(t)::text from \"{table}\" t")).ConvertAll(Row);
            foreach (var row in before.Select(Row))
            {
                var columns = row.Select(c => c.Key).Where(c => left[0].ContainsKey(c)).ToList();
                gone.UnionWith(row.Select(c => c.Key).Except(columns).Select(c => $"{table}.{c}"));
                var found = left.FindIndex(r => columns.TrueForAll(c => JsonNode.DeepEquals(r[c], row[c])));
                Assert.True(found >= 0, $"This row of {table} is gone or changed: {row.ToJsonString()}");
                left.RemoveAt(found);
            }
        }

        Assert.Equal(Moved.Keys.Order(StringComparer.Ordinal), gone.Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task Everybody_signs_in_with_the_password_of_then_and_sees_their_own()
    {
        foreach (var (person, attempts) in (IEnumerable<(string, int)>)[("chief", 3), ("instructor", 3), ("student", 2), ("second", 1)])
        {
            var client = await app.AsAsync(person);
            Assert.Equal("Old Ridge Flying School", (await client.MeAsync(Cancel)).School.Name);
            Assert.Equal((person, attempts), (person, (await client.AttemptsAsync(ct: Cancel)).Total));
        }
    }

    [Fact]
    public async Task Scores_are_those_of_the_engine_that_gave_them_and_the_grade_stands_on_its_report()
    {
        var student = await app.AsAsync("student");
        var attempt = await AttemptAsync(student, "timed-turns");
        Assert.Equal(("1.2.0", Verdict.Met), (attempt.Score!.EngineVersion, attempt.Score.Overall.Verdict));
        // Handbook timed turns: straight, turn, straight, turn, straight, turn, straight.
        Assert.Equal(7, attempt.Score.Segments.Count);
        var grade = attempt.Grade!;
        Assert.Equal(
            ("to-standard", "Good clock, keep the trim in hand.", "Thank you, understood.", attempt.ReportId),
            (grade.Overall, grade.Comment, grade.StudentReply, grade.ReportId)
        );
        Assert.Equal("Steady.", Assert.Single(grade.Segments).Comment);
        Assert.True((await student.TrackAsync(attempt.AttemptId, Cancel)).TimeS.Length > 300);

        var corrected = await AttemptAsync(await app.AsAsync("instructor"), "racetrack");
        Assert.Equal("Traffic.", Assert.Single(corrected.Corrections[0].Excluded).Reason);
        Assert.Equal(AttemptStatus.Unscorable, (await AttemptAsync(student, "box-circles")).Status);
    }

    [Fact]
    public async Task The_recording_is_the_bytes_that_were_sent()
    {
        using var student = await app.HttpAsync("student");
        var attempt = await AttemptAsync(new SchoolDrillsClient(student), "timed-turns");
        var bytes = await student.GetByteArrayAsync($"/api/v1/attempts/{attempt.AttemptId}/track/original", Cancel);
        await using var sent = SchoolsFixture.Recording("f13.csv");
        Assert.Equal(await SHA256.HashDataAsync(sent, Cancel), SHA256.HashData(bytes));
    }

    [Fact]
    public async Task The_chief_reads_the_trail_of_then()
    {
        var trail = await (await app.AsAsync("chief")).AuditAsync(ct: Cancel);
        foreach (var action in "school-made person-invited drill-assigned attempt-corrected grade-signed grade-acknowledged".Split(' '))
            Assert.Contains(trail.Items, e => e.What == action);
    }

    private static async Task<AttemptDetail> AttemptAsync(SchoolDrillsClient client, string drill)
    {
        var listed = Assert.Single((await client.AttemptsAsync(drillSlug: drill, ct: Cancel)).Items);
        return await client.AttemptAsync(listed.AttemptId, Cancel);
    }

    private static JsonObject Row(string json) => JsonNode.Parse(json)!.AsObject();
}
