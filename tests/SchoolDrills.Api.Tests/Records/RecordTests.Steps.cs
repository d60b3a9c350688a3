using System.IO.Compression;
using System.Net;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Records;

/// <summary>What the record tests are made of.</summary>
public sealed partial class RecordTests
{
    /// <summary>
    /// A new student with an account, a note, a scored attempt, a signed grade with words in it, and the student's reply. Name and
    /// words are of this student alone: the other tests of this school leave theirs lying about.
    /// </summary>
    private async Task<(Guid Id, string Name)> FlownAndGradedAsync(string key)
    {
        var (name, words) = ($"Pupil named {key}", WordsOf(key));
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var made = await chief.InviteAsync(new InvitePerson(name, SchoolsFixture.EmailOf(key), [Roles.Student]), Cancel);
        await new SchoolDrillsClient(app.Stranger()).AcceptLinkAsync(
            new AcceptLink(made.Path.Split("token=")[1], "a good password"),
            Cancel
        );
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var assignment = Assert.Single(
            await instructor.AssignAsync(new CreateAssignment([made.Person.Id], "timed-turns", null, words), Cancel)
        );
        await using var track = SchoolsFixture.Recording("f13.csv");
        var attemptId = (await instructor.UploadAsync(assignment.Id, track, $"{words}.csv", new AttemptMeta(), Cancel)).AttemptId;
        await app.ScoreAsync(attemptId);
        // Noted beside the recording, and of another day.
        foreach (var notedAt in (DateTimeOffset[])[new(2026, 1, 17, 17, 31, 0, TimeSpan.Zero), new(2026, 1, 10, 9, 0, 0, TimeSpan.Zero)])
        {
            var log = new PutFlightLog
            {
                StartedAtUtc = notedAt,
                SentAtUtc = DateTimeOffset.UtcNow,
                Events = [new AttemptEvent(Guid.NewGuid(), "note", notedAt, words)],
            };
            await instructor.PutFlightLogAsync(assignment.Id, Guid.NewGuid(), log, Cancel);
        }

        await instructor.AddStudentNoteAsync(made.Person.Id, new SaveStudentNote(words), Cancel);
        await instructor.SaveGradeAsync(
            attemptId,
            new SaveGrade("with-help", [new SegmentGrade(0, "with-help", words)], words, true),
            Cancel
        );
        return (made.Person.Id, name);
    }

    private static string WordsOf(string key) => $"words about {key}";

    /// <summary>As though the training and the leaving were ten years ago.</summary>
    private async Task LongAgoAsync(Guid id)
    {
        var then = DateTimeOffset.UtcNow.AddYears(-10);
        await app.QueryAsJobAsync(db =>
            db.Attempts.Where(a => a.StudentId == id).ExecuteUpdateAsync(a => a.SetProperty(x => x.FlownAtUtc, then), Cancel)
        );
        // Notes of a flight are training as well.
        await app.QueryAsync(db =>
            db.FlightLogs.Where(l => l.StudentId == id).ExecuteUpdateAsync(l => l.SetProperty(x => x.StartedAtUtc, then), Cancel)
        );
        await app.QueryAccountsAsync(db =>
            db.People.Where(p => p.Id == id).ExecuteUpdateAsync(p => p.SetProperty(x => x.LeftAtUtc, then), Cancel)
        );
    }

    /// <summary>What the school's statistics are made of.</summary>
    private Task<string> FiguresAsync(Guid id) =>
        app.QueryAsync(async db =>
            JsonSerializer.Serialize(
                new
                {
                    Segments = await db
                        .SegmentResults.Where(r => r.StudentId == id)
                        .OrderBy(r => r.SegmentIndex)
                        .ThenBy(r => r.Parameter)
                        .Select(r => new
                        {
                            r.SegmentIndex,
                            r.WithinShare,
                            r.Verdict,
                        })
                        .ToListAsync(Cancel),
                    Attempts = await db
                        .Attempts.Where(a => a.StudentId == id)
                        .Select(a => new
                        {
                            a.Id,
                            a.WithinShare,
                            a.Verdict,
                            a.Status,
                        })
                        .ToListAsync(Cancel),
                    Grades = await db
                        .Grades.Where(g => db.Attempts.Any(a => a.Id == g.AttemptId && a.StudentId == id))
                        .Select(g => new
                        {
                            g.Overall,
                            g.SignedAtUtc,
                            g.InstructorId,
                        })
                        .ToListAsync(Cancel),
                }
            )
        );

    private static async Task<ZipArchive> ZipAsync(HttpClient http, string path)
    {
        var answer = await http.GetAsync("/api/v1/" + path, Cancel);
        Assert.Equal((HttpStatusCode.OK, "application/zip"), (answer.StatusCode, answer.Content.Headers.ContentType?.MediaType));
        return new ZipArchive(new MemoryStream(await answer.Content.ReadAsByteArrayAsync(Cancel)));
    }

    private static string Text(ZipArchiveEntry entry)
    {
        using var reader = new StreamReader(entry.Open(), Encoding.UTF8);
        return reader.ReadToEnd();
    }

    private static JsonElement Json(ZipArchive zip, string table) =>
        JsonDocument.Parse(Text(zip.GetEntry($"data/{table}.json")!)).RootElement;

    private static async Task<byte[]> HashAsync(ZipArchiveEntry entry)
    {
        await using var content = entry.Open();
        return await SHA256.HashDataAsync(content, Cancel);
    }

    private static void HasNoSecrets(ZipArchive zip)
    {
        foreach (var entry in zip.Entries.Where(e => e.FullName.StartsWith("data/", StringComparison.Ordinal)))
        {
            foreach (var secret in (string[])["password_hash", "security_stamp", "authenticator_key", "recovery_code_hashes", "\"hash\""])
                Assert.DoesNotContain(secret, Text(entry), StringComparison.Ordinal);
        }
    }
}
