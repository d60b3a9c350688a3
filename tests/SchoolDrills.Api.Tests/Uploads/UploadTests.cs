using System.IO.Compression;
using System.Net;
using System.Net.Http.Headers;
using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Uploads;

public sealed class UploadTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_recording_is_accepted_and_comes_back_byte_for_byte()
    {
        var assignment = await app.AssignAsync("box-circles");
        using var http = await app.HttpAsync(SchoolsFixture.Student);
        var bytes = await BytesAsync("f01.gpx");
        using var form = Form(bytes, "my flight.gpx", """{"flownOn": "2026-02-12", "qnhHpa": 1019, "windFromDegTrue": 40, "windKt": 4}""");
        var answer = await http.PostAsync($"/api/v1/assignments/{assignment.Id}/attempts", form, Cancel);
        Assert.Equal(HttpStatusCode.Accepted, answer.StatusCode);

        var attempt = await new SchoolDrillsClient(http).AttemptAsync(
            Guid.Parse(answer.Headers.Location!.OriginalString.Split('/')[^1]),
            Cancel
        );
        Assert.Equal((AttemptStatus.Queued, assignment.Id, "my flight.gpx"), (attempt.Status, attempt.AssignmentId, attempt.FileName));
        Assert.Equal((bytes.LongLength, Convert.ToHexStringLower(SHA256.HashData(bytes))), (attempt.FileBytes, attempt.Sha256));
        Assert.Equal((new DateOnly(2026, 2, 12), 1019.0), (attempt.Meta.FlownOn, attempt.Meta.QnhHpa));

        var original = await http.GetAsync($"/api/v1/attempts/{attempt.AttemptId}/track/original", Cancel);
        Assert.Equal(bytes, await original.Content.ReadAsByteArrayAsync(Cancel));
        Assert.Equal(
            ("attachment", "application/octet-stream"),
            (original.Content.Headers.ContentDisposition?.DispositionType, original.Content.Headers.ContentType?.MediaType)
        );
    }

    [Fact]
    public async Task A_compressed_recording_comes_back_compressed_as_it_was()
    {
        var assignment = await app.AssignAsync("box-circles");
        var attemptId = await app.UploadAsync(assignment.Id, "f07.gpx.gz");
        using var http = await app.HttpAsync(SchoolsFixture.Student);
        Assert.Equal(await BytesAsync("f07.gpx.gz"), await http.GetByteArrayAsync($"/api/v1/attempts/{attemptId}/track/original", Cancel));
    }

    [Fact]
    public async Task The_same_bytes_for_the_same_assignment_are_one_attempt()
    {
        var assignment = await app.AssignAsync("racetrack");
        using var http = await app.HttpAsync(SchoolsFixture.Student);
        var first = await app.UploadAsync(assignment.Id, "f12.gpx");
        using var form = Form(await BytesAsync("f12.gpx"), "renamed.gpx");
        var again = await http.PostAsync($"/api/v1/assignments/{assignment.Id}/attempts", form, Cancel);
        Assert.Equal(HttpStatusCode.OK, again.StatusCode);
        Assert.Contains(first.ToString(), await again.Content.ReadAsStringAsync(Cancel), StringComparison.Ordinal);
        Assert.Equal(1, await app.QueryAsync(db => db.Attempts.CountAsync(a => a.AssignmentId == assignment.Id, Cancel)));
        Assert.NotEqual(first, await app.UploadAsync((await app.AssignAsync("racetrack")).Id, "f12.gpx"));
    }

    [Fact]
    public async Task The_same_bytes_sent_ten_times_at_once_are_one_attempt()
    {
        var assignment = await app.AssignAsync("racetrack");
        await app.HttpAsync(SchoolsFixture.Student);
        var ids = await Task.WhenAll(Enumerable.Range(0, 10).Select(_ => app.UploadAsync(assignment.Id, "f12.csv")));
        Assert.Single(ids.Distinct());
    }

    [Theory]
    [InlineData("damaged/empty-track.gpx")]
    [InlineData("damaged/zero-bytes.csv")]
    public async Task What_has_no_flight_in_it_is_refused_and_leaves_nothing(string recording)
    {
        var assignment = await app.AssignAsync("box-circles");
        await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => app.UploadAsync(assignment.Id, recording));
        await NothingIsKeptAsync(assignment.Id);
    }

    [Fact]
    public async Task A_broken_record_is_named_by_its_line()
    {
        var assignment = await app.AssignAsync("timed-turns");
        using var http = await app.HttpAsync(SchoolsFixture.Student);
        using var broken = Form(
            "<?xml version=\"1.0\"?>\n<gpx version=\"1.1\">\n<trk><trkseg>\n<trkpt lat=\"-43.1\" lon=<broken\n"u8.ToArray(),
            "broken.gpx"
        );
        var problem = await (await http.PostAsync($"/api/v1/assignments/{assignment.Id}/attempts", broken, Cancel)).ProblemAsync(
            HttpStatusCode.UnprocessableEntity
        );
        Assert.Contains("line 4", problem.GetProperty("detail").GetString(), StringComparison.OrdinalIgnoreCase);
        await NothingIsKeptAsync(assignment.Id);
    }

    [Fact]
    public async Task More_than_64_MiB_are_refused()
    {
        var assignment = await app.AssignAsync("box-circles");
        using var http = await app.HttpAsync(SchoolsFixture.Student);
        using var form = Form(new byte[(64 << 20) + 1], "large.gpx");
        await (await http.PostAsync($"/api/v1/assignments/{assignment.Id}/attempts", form, Cancel)).ProblemAsync(
            HttpStatusCode.RequestEntityTooLarge
        );
        await NothingIsKeptAsync(assignment.Id);
    }

    [Fact]
    public async Task More_than_500_000_samples_are_refused_though_they_come_squeezed()
    {
        var assignment = await app.AssignAsync("box-circles");
        using var squeezed = new MemoryStream();
        await using (var text = new StreamWriter(new GZipStream(squeezed, CompressionLevel.Fastest, leaveOpen: true)))
        {
            await text.WriteAsync("time,latitude,longitude,altitude_ft\n");
            for (var i = 0; i <= 500_000; i++)
                await text.WriteAsync($"{DateTime.UnixEpoch.AddSeconds(1.7e9 + i):yyyy-MM-ddTHH:mm:ssZ},-43.6,171.8,3000\n");
        }

        using var http = await app.HttpAsync(SchoolsFixture.Student);
        using var form = Form(squeezed.ToArray(), "long.csv.gz");
        await (await http.PostAsync($"/api/v1/assignments/{assignment.Id}/attempts", form, Cancel)).ProblemAsync(
            HttpStatusCode.RequestEntityTooLarge
        );
        await NothingIsKeptAsync(assignment.Id);
    }

    [Theory]
    [InlineData("""{"qnhHpa": 29.92}""", "qnhHpa")]
    [InlineData("""{"windKt": 12}""", "windFromDegTrue")]
    [InlineData("""{"loadRatings": [6]}""", "loadRatings")]
    [InlineData("""{"qnhHpa": """, "meta")]
    public async Task What_is_told_with_it_must_be_possible(string meta, string named)
    {
        var assignment = await app.AssignAsync("timed-turns");
        using var http = await app.HttpAsync(SchoolsFixture.Student);
        using var form = Form(await BytesAsync("f13.csv"), "f13.csv", meta);
        var problem = await (await http.PostAsync($"/api/v1/assignments/{assignment.Id}/attempts", form, Cancel)).ProblemAsync(
            HttpStatusCode.UnprocessableEntity
        );
        Assert.Contains(named, problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
        await NothingIsKeptAsync(assignment.Id);
    }

    [Fact]
    public async Task An_upload_without_a_file_or_without_multipart_is_a_bad_request()
    {
        var assignment = await app.AssignAsync("timed-turns");
        using var http = await app.HttpAsync(SchoolsFixture.Student);
        using var empty = new MultipartFormDataContent { { new StringContent("{}"), "meta" } };
        await (await http.PostAsync($"/api/v1/assignments/{assignment.Id}/attempts", empty, Cancel)).ProblemAsync(
            HttpStatusCode.BadRequest
        );
        using var json = new StringContent("{}", new MediaTypeHeaderValue("application/json"));
        await (await http.PostAsync($"/api/v1/assignments/{assignment.Id}/attempts", json, Cancel)).ProblemAsync(HttpStatusCode.BadRequest);
    }

    [Theory]
    [InlineData("../../etc/passwd", "passwd")]
    [InlineData("C:\\flights\\monday.gpx", "monday.gpx")]
    public async Task A_file_name_is_a_name_and_never_a_path(string sent, string kept)
    {
        var assignment = await app.AssignAsync("timed-turns");
        using var http = await app.HttpAsync(SchoolsFixture.Student);
        using var form = Form(await BytesAsync("f13.csv"), sent);
        var answer = await http.PostAsync($"/api/v1/assignments/{assignment.Id}/attempts", form, Cancel);
        Assert.Equal(HttpStatusCode.Accepted, answer.StatusCode);
        Assert.Equal(kept, (await app.QueryAsync(db => db.Attempts.SingleAsync(a => a.AssignmentId == assignment.Id, Cancel))).FileName);
    }

    [Fact]
    public async Task An_attempt_without_an_assignment_names_its_drill_and_student()
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var meta = new AttemptMeta { Drill = "timed-turns", StudentId = app.IdOf(SchoolsFixture.OtherStudent) };
        await using var track = SchoolsFixture.Recording("f13.csv");
        var accepted = await instructor.UploadAsync(null, track, "f13.csv", meta, Cancel);
        var attempt = await (await app.AsAsync(SchoolsFixture.OtherStudent)).AttemptAsync(accepted.AttemptId, Cancel);
        Assert.Equal((null, "timed-turns", "The instructor"), (attempt.AssignmentId, attempt.Drill.Slug, attempt.UploadedBy));

        var student = await app.AsAsync(SchoolsFixture.Student);
        await RefusedAsync(new AttemptMeta { Drill = "no-such-drill" });
        await RefusedAsync(meta);

        async Task RefusedAsync(AttemptMeta wrong)
        {
            await using var again = SchoolsFixture.Recording("f13.csv");
            await Refusals.RefusedAsync(
                HttpStatusCode.UnprocessableEntity,
                () => student.UploadAsync(null, again, "f13.csv", wrong, Cancel)
            );
        }
    }

    [Fact]
    public async Task Attempts_are_listed_newest_first()
    {
        var student = await app.AsAsync(SchoolsFixture.Student);
        var earlier = await app.UploadAsync((await app.AssignAsync("vertical-s-turning")).Id, "f10.gpx");
        var later = await app.UploadAsync((await app.AssignAsync("vertical-s-turning")).Id, "f10.csv");
        var page = await student.AttemptsAsync(drillSlug: "vertical-s-turning", ct: Cancel);
        Assert.Equal([later, earlier], page.Items.Select(a => a.AttemptId));
        Assert.Equal((1, 2), (page.Page, page.Total));
        Assert.Empty((await student.AttemptsAsync(drillSlug: "vertical-s-turning", page: 2, ct: Cancel)).Items);
    }

    private async Task NothingIsKeptAsync(Guid assignmentId)
    {
        Assert.Equal(0, await app.QueryAsync(db => db.Attempts.CountAsync(a => a.AssignmentId == assignmentId, Cancel)));
        Assert.Equal(0, await app.QueryAsync(db => db.TrackFiles.CountAsync(f => !db.Attempts.Any(a => a.Id == f.AttemptId), Cancel)));
    }

    private static async Task<byte[]> BytesAsync(string recording)
    {
        await using var file = SchoolsFixture.Recording(recording);
        var bytes = new byte[file.Length];
        await file.ReadExactlyAsync(bytes, Cancel);
        return bytes;
    }

    private static MultipartFormDataContent Form(byte[] bytes, string fileName, string? meta = null)
    {
        var form = new MultipartFormDataContent { { new ByteArrayContent(bytes), "track", fileName } };
        if (meta is not null)
            form.Add(new StringContent(meta), "meta");
        return form;
    }
}
