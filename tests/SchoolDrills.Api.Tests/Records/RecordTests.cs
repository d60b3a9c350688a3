using System.Net;
using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Records;

/// <summary>Training records: what is in them, what is handed out, how long they are kept and what is left after.</summary>
public sealed partial class RecordTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_training_record_holds_every_attempt_with_its_signed_grades_and_a_digest_that_the_trail_knows()
    {
        var attemptId = await app.ScoredAsync("timed-turns", "f13.csv");
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        await instructor.SaveGradeAsync(attemptId, new SaveGrade("with-help", [], "A start.", true), Cancel);
        await instructor.AmendGradeAsync(attemptId, new AmendGrade("to-standard", [], null, "Seen again."), Cancel);
        await (await app.AsAsync(SchoolsFixture.Student)).AcknowledgeGradeAsync(attemptId, new AcknowledgeGrade("Thank you."), Cancel);

        var record = await (await app.AsAsync(SchoolsFixture.Student)).TrainingRecordAsync(app.IdOf(SchoolsFixture.Student), Cancel);
        var entry = Assert.Single(record.Entries, e => e.AttemptId == attemptId);
        Assert.Equal(("Timed turns", "The instructor"), (entry.Drill, entry.AssignedBy));
        Assert.Equal(
            [("With help", "A start.", null), ("To standard", null, "Seen again.")],
            entry.Grades.Select(g => (g.Overall, g.Comment, g.AmendmentReason))
        );
        Assert.Equal("Thank you.", entry.Grades[1].Reply);
        var made = (await (await app.AsAsync(SchoolsFixture.Chief)).AuditAsync(what: "record-made", ct: Cancel)).Items[0];
        Assert.Contains(record.Digest, made.Detail, StringComparison.Ordinal);
        // Nothing happened in between, so a record made again has the same digest.
        Assert.Equal(record.Digest, (await instructor.TrainingRecordAsync(app.IdOf(SchoolsFixture.Student), Cancel)).Digest);
    }

    [Fact]
    public async Task Nobody_is_erased_before_the_time_or_under_a_hold_or_by_mistake()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var (id, name) = await FlownAndGradedAsync("kept");
        await Conflict("still-active");
        await chief.DeactivateAsync(id, Cancel);
        await chief.SaveRecordSettingsAsync(new RecordSettings(false, ["us-instructor", "us-part-141"], 0), Cancel);
        var kept = (await chief.RecordsAsync(Cancel)).People.Single(p => p.Id == id);
        Assert.Equal(3, (await chief.RecordsAsync(Cancel)).Years);
        Assert.Equal(kept.LastOn!.Value.AddYears(3), kept.KeepUntil);
        await Conflict("must-be-kept");
        // Longest wins: the shorter rule alone does not free what the longer binds, a wish of the school's own binds too.
        Assert.Equal(7, (await chief.SaveRecordSettingsAsync(new RecordSettings(false, ["us-part-141"], 7), Cancel)).Years);
        await Conflict("must-be-kept");

        await LongAgoAsync(id);
        await chief.SaveRecordSettingsAsync(new RecordSettings(false, ["us-instructor"], 0), Cancel);
        await chief.SetLegalHoldAsync(id, new SetLegalHold(true, "A claim is open."), Cancel);
        await Conflict("legal-hold");
        await chief.SetLegalHoldAsync(id, new SetLegalHold(false, null), Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => chief.ErasePersonAsync(id, "somebody else", Cancel));
        await chief.ErasePersonAsync(id, name, Cancel);

        async Task Conflict(string type) =>
            Assert.EndsWith(
                type,
                (await Refusals.RefusedAsync(HttpStatusCode.Conflict, () => chief.ErasePersonAsync(id, name, Cancel))).Type,
                StringComparison.Ordinal
            );
    }

    [Fact]
    public async Task An_erased_person_is_in_no_table_any_more_and_the_schools_figures_are_as_before()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var (id, name) = await FlownAndGradedAsync("leaving");
        var before = await FiguresAsync(id);
        Assert.Equal(2, await app.QueryAsync(db => db.FlightLogs.CountAsync(l => l.StudentId == id, Cancel)));
        await chief.DeactivateAsync(id, Cancel);
        await LongAgoAsync(id);
        await chief.ErasePersonAsync(id, name, Cancel);

        Assert.Equal(before, await FiguresAsync(id));
        await using var owner = new NpgsqlConnection(app.Database.Access.Owner);
        await owner.OpenAsync(Cancel);
        foreach (var (table, _) in await Data.SchoolRows.TablesAsync(owner, Cancel))
        {
            foreach (var word in (string[])[SchoolsFixture.EmailOf("leaving"), name, WordsOf("leaving")])
            {
                await using var command = new NpgsqlCommand(
                    $"select count(*) from {table} t where strpos(lower(t::text), lower($1)) > 0",
                    owner
                )
                {
                    Parameters = { new() { Value = word } },
                };
                Assert.Equal((table, word, 0L), (table, word, (long)(await command.ExecuteScalarAsync(Cancel))!));
            }
        }

        Assert.Equal(0, await app.QueryAsync(db => db.FlightLogs.CountAsync(l => l.StudentId == id, Cancel)));
        Assert.Equal(
            0,
            await app.QueryAsync(db =>
                db.TrackFiles.CountAsync(f => db.Attempts.Any(a => a.Id == f.AttemptId && a.StudentId == id), Cancel)
            )
        );
        var erased = Assert.Single(await chief.PeopleAsync(ct: Cancel), p => p.Id == id);
        Assert.Equal(("erased", ""), (erased.State, erased.Email));
        Assert.StartsWith("Former student ", erased.DisplayName, StringComparison.Ordinal);
        Assert.Contains((await chief.AuditAsync(who: id, ct: Cancel)).Items, l => l is { What: "person-erased", Who: "The chief" });
        // The address is free again.
        await chief.InviteAsync(new InvitePerson("A newcomer", SchoolsFixture.EmailOf("leaving"), [Roles.Student]), Cancel);
    }

    [Fact]
    public async Task Only_the_erasing_function_may_change_what_never_changes_and_only_within_its_school()
    {
        var (id, _) = await FlownAndGradedAsync("isolated");
        await using var raw = await RawSql.OpenAsync(app.Database.Access.App);
        await raw.EnterAsync(app.ElsewhereId, app.IdOf(SchoolsFixture.FarChief), "whole-school");
        var refusal = await Assert.ThrowsAsync<PostgresException>(() => raw.ExecuteAsync($"select erasure.erase_person('{id}', 'x')"));
        Assert.Equal(PostgresErrorCodes.NoDataFound, refusal.SqlState);
        await raw.EnterAsync(app.TussockId, null, "whole-school");
        await raw.RefusesAsync("set role schooldrills_eraser");
        await raw.RefusesAsync("update audit_entries set detail = null");
        await raw.RefusesAsync("update grades set comment = null where signed_at_utc is not null");
    }

    [Fact]
    public async Task A_persons_data_is_a_zip_with_what_is_theirs_and_the_recording_as_it_was_uploaded()
    {
        var attemptId = await app.ScoredAsync("timed-turns", "f13.nmea");
        var student = await app.AsAsync(SchoolsFixture.Student);
        var (logId, assignmentId) = (Guid.NewGuid(), (await student.AttemptAsync(attemptId, Cancel)).AssignmentId!.Value);
        await student.PutFlightLogAsync(assignmentId, logId, new PutFlightLog { SentAtUtc = DateTimeOffset.UtcNow }, Cancel);
        using var http = await app.HttpAsync(SchoolsFixture.Student);
        using var zip = await ZipAsync(http, $"people/{app.IdOf(SchoolsFixture.Student)}/data");
        Assert.Contains(Json(zip, "flight_logs").EnumerateArray(), l => l.GetProperty("id").GetGuid() == logId);
        var people = Assert.Single(Json(zip, "people").EnumerateArray());
        Assert.Equal(SchoolsFixture.EmailOf(SchoolsFixture.Student), people.GetProperty("email").GetString());
        Assert.All(
            Json(zip, "attempts").EnumerateArray(),
            a => Assert.Equal(app.IdOf(SchoolsFixture.Student).ToString(), a.GetProperty("student_id").GetString())
        );
        Assert.Contains(Json(zip, "score_reports").EnumerateArray(), r => r.GetProperty("attempt_id").GetString() == attemptId.ToString());
        await using var original = SchoolsFixture.Recording("f13.nmea");
        Assert.Equal(await SHA256.HashDataAsync(original, Cancel), await HashAsync(zip.GetEntry($"recordings/{attemptId}/f13.nmea")!));
        HasNoSecrets(zip);
    }

    [Fact]
    public async Task The_schools_export_holds_every_table_of_the_school_and_nobody_elses_rows()
    {
        await app.ScoredAsync("timed-turns", "f13.csv");
        using var http = await app.HttpAsync(SchoolsFixture.Chief);
        using var zip = await ZipAsync(http, "school/export");
        foreach (
            var table in (string[])
                [
                    "schools",
                    "people",
                    "assignments",
                    "attempts",
                    "score_reports",
                    "segment_results",
                    "grades",
                    "audit_entries",
                    "drill_versions",
                    "tolerance_standards",
                    "aircraft_profiles",
                ]
        )
        {
            Assert.True(zip.GetEntry($"data/{table}.json") is not null, table);
        }

        Assert.Equal("Tussock Plains Flying School", Assert.Single(Json(zip, "schools").EnumerateArray()).GetProperty("name").GetString());
        Assert.DoesNotContain(
            Json(zip, "people").EnumerateArray(),
            p => p.GetProperty("id").GetString() == app.IdOf(SchoolsFixture.FarStudent).ToString()
        );
        HasNoSecrets(zip);
    }

    [Theory]
    [InlineData("../../etc/passwd", "passwd")]
    [InlineData("..\\..\\boot.ini", "boot.ini")]
    [InlineData("<script>alert(1)</script>.gpx", "script>.gpx")]
    [InlineData("CON:aux|.csv", "CONaux.csv")]
    [InlineData("...", "track")]
    public async Task A_file_name_with_a_trick_in_it_is_a_plain_name_everywhere(string sent, string kept)
    {
        var assignment = await app.AssignAsync("timed-turns", SchoolsFixture.OtherStudent);
        await using var track = SchoolsFixture.Recording("f13.csv");
        var student = await app.AsAsync(SchoolsFixture.OtherStudent);
        var attemptId = (await student.UploadAsync(assignment.Id, track, sent, new AttemptMeta(), Cancel)).AttemptId;
        var name = (await student.AttemptAsync(attemptId, Cancel)).FileName;
        Assert.DoesNotContain(name, c => c is '/' or '\\' or '<' or '"' or ':' || char.IsControl(c));
        Assert.EndsWith(kept.Replace(">", "", StringComparison.Ordinal), name, StringComparison.Ordinal);
        using var http = await app.HttpAsync(SchoolsFixture.OtherStudent);
        var answer = await http.GetAsync($"/api/v1/attempts/{attemptId}/track/original", Cancel);
        Assert.Equal(
            ("application/octet-stream", "attachment", "nosniff"),
            (
                answer.Content.Headers.ContentType?.MediaType,
                answer.Content.Headers.ContentDisposition?.DispositionType,
                answer.Headers.GetValues("X-Content-Type-Options").Single()
            )
        );
        using var zip = await ZipAsync(http, $"people/{app.IdOf(SchoolsFixture.OtherStudent)}/data");
        Assert.All(zip.Entries, e => Assert.DoesNotContain("..", e.FullName, StringComparison.Ordinal));
    }
}
