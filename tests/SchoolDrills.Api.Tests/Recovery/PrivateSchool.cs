using System.Security.Cryptography;
using System.Text.RegularExpressions;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Api.Tests.Recovery;

/// <summary>Two schools on a private database in a data folder of its own, whose log is archived, with work of every kind in it.</summary>
public sealed partial class PrivateSchool : SchoolsFixture
{
    private readonly TemporaryFolder folder = new();
    private PrivatePostgres? server;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <summary>The data folder.</summary>
    internal string Data => At("data");

    /// <summary>Has a blank in its name, as folders may.</summary>
    internal string Archive => At("log archive");

    internal string Owner => Database.OwnerConnectionString;

    /// <summary>An attempt that was scored, graded and answered.</summary>
    internal Guid Graded { get; private set; }

    internal string At(string name) => Path.Combine(folder.FullPath, name);

    public override async ValueTask InitializeAsync()
    {
        await base.InitializeAsync();
        var (chief, instructor, student) = (await AsAsync(Chief), await AsAsync(Instructor), await AsAsync(Student));
        Graded = await GradedAsync("f13.csv");

        var corrected = await ScoredAsync("racetrack", "f12.csv");
        var boundary = (await instructor.AttemptAsync(corrected, Cancel)).Score!.Segments[1].StartUtc!.Value.AddSeconds(5);
        await instructor.SetBoundariesAsync(
            corrected,
            new PutBoundaries([new ManualBoundary(1, boundary)], Reason: "He began at the count."),
            Cancel
        );
        await ScoreAsync(corrected);
        await chief.SaveGradeAsync(corrected, new SaveGrade("with-help", [], "Draft.", Sign: false), Cancel);
        await student.AssessSelfAsync(corrected, new PutSelfAssessment(Skipped: true), Cancel);

        // Not in its recording, not yet scored, and not yet claimed.
        await ScoredAsync("box-circles", "f13.csv");
        await UploadAsync((await AssignAsync("vertical-s-turning")).Id, "f10.csv");
        await using (var track = Recording("f10.gpx"))
            await student.SendRecordingAsync(track, "f10.gpx", Cancel);
        await instructor.AddStudentNoteAsync(IdOf(Student), new SaveStudentNote("Rushes the entry."), Cancel);
        Assert.NotEmpty((await chief.AuditAsync(ct: Cancel)).Items);
    }

    /// <summary>Timed turns flown, scored, graded and answered.</summary>
    internal async Task<Guid> GradedAsync(string recording)
    {
        var attemptId = await ScoredAsync("timed-turns", recording);
        var grade = new SaveGrade("to-standard", [new SegmentGrade(0, "to-standard", "Steady.")], "Good scan.", Sign: true);
        await (await AsAsync(Instructor)).SaveGradeAsync(attemptId, grade, Cancel);
        await (await AsAsync(Student)).AcknowledgeGradeAsync(attemptId, new AcknowledgeGrade("Thanks."), Cancel);
        return attemptId;
    }

    /// <summary>
    /// What the student reads of an attempt: all of it word for word, but for the revisions that count the database's own transactions,
    /// and the SHA-256 of its recording.
    /// </summary>
    internal async Task<(string Attempt, string Recording)> ReadAsync(Guid attemptId)
    {
        using var http = await HttpAsync(Student);
        return await ReadAsync(http, attemptId);
    }

    internal static async Task<(string Attempt, string Recording)> ReadAsync(HttpClient http, Guid attemptId) =>
        (
            Revision().Replace(await http.GetStringAsync($"/api/v1/attempts/{attemptId}", Cancel), "\"revision\":0"),
            Convert.ToHexStringLower(SHA256.HashData(await http.GetByteArrayAsync($"/api/v1/attempts/{attemptId}/track/original", Cancel)))
        );

    /// <summary>Starts SchoolDrills on a data folder, signs the student in, and stops it after.</summary>
    internal static async Task ServeAsync(string data, Func<HttpClient, Task> read, SignIn? who = null)
    {
        using var host = HostProgram.Start(data, "http://127.0.0.1:0", "--role", "web");
        try
        {
            using var http = new HttpClient { BaseAddress = new Uri(await HostProgram.ReadUntilReadyAsync(host)) };
            var session = await new SchoolDrillsClient(http).SignInAsync(who ?? new SignIn(EmailOf(Student), Password), Cancel);
            http.DefaultRequestHeaders.Authorization = new("Bearer", session.AccessToken);
            await read(http);
        }
        finally
        {
            await HostProgram.StopAsync(host);
        }
    }

    /// <summary>Stops the database cleanly, as the host does at its end.</summary>
    internal async Task StopDatabaseAsync()
    {
        if (server is not null)
            await server.DisposeAsync();
        server = null;
    }

    public override async ValueTask DisposeAsync()
    {
        await base.DisposeAsync();
        await StopDatabaseAsync();
        folder.Dispose();
    }

    protected override async Task MakeDatabaseAsync()
    {
        server = await PrivatePostgres.StartAsync(Data, archive: Archive, ct: Cancel);
        Database.Use(server.OwnerConnectionString);
    }

    [GeneratedRegex("\"revision\":[0-9]+")]
    private static partial Regex Revision();
}
