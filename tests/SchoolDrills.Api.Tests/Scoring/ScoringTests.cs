using System.Buffers.Binary;
using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Api.Tests.Scoring;

public sealed class ScoringTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_well_flown_box_is_found_measured_and_met()
    {
        var attemptId = await app.ScoredAsync("box-circles", "f01.gpx");
        var attempt = await (await app.AsAsync(SchoolsFixture.Student)).AttemptAsync(attemptId, Cancel);
        Assert.True(attempt.Status == AttemptStatus.Scored, attempt.Reason);
        Assert.Null(attempt.Stage);
        var report = attempt.Score!;
        Assert.True(report.Found);
        Assert.Equal(("box-circles", 1), (report.Drill.Slug, report.Drill.Version));
        // The flight's own record: the drill starts at 21:04:33, four sides of four segments each, all within the tolerances.
        Assert.Equal(16, report.Segments.Count);
        Assert.InRange(
            report.StartUtc!.Value,
            DateTimeOffset.Parse("2026-02-11T21:04:28Z", null),
            DateTimeOffset.Parse("2026-02-11T21:04:38Z", null)
        );
        Assert.All(report.Segments, s => Assert.Equal(SegmentStatus.Flown, s.Status));
        Assert.True(report.Overall.WithinShare > 0.9, $"{report.Overall.WithinShare}");

        var summary = Assert.Single(
            (await (await app.AsAsync(SchoolsFixture.Instructor)).AttemptsAsync(ct: Cancel)).Items,
            a => a.AttemptId == attemptId
        );
        Assert.Equal(
            (report.Overall.WithinShare, report.Overall.Verdict, "none"),
            (summary.WithinShare, summary.Verdict, summary.GradeState)
        );
        Assert.Equal(report.StartUtc!.Value, summary.FlownAtUtc!.Value, TimeSpan.FromMilliseconds(1));
        Assert.Equal(report.Segments.Select(s => (s.Index, s.Verdict)), summary.Ribbon.Select(s => (s.Index, s.Verdict)));
    }

    /// <summary>f01 was flown on 11 February, f13 on 17 January: the one uploaded last was flown first.</summary>
    [Fact]
    public async Task Lists_of_attempts_go_by_when_they_were_flown_not_by_when_they_were_uploaded()
    {
        var february = await app.ScoredAsync("box-circles", "f01.gpx");
        var january = await app.ScoredAsync("timed-turns", "f13.gpx");
        var listed = (await (await app.AsAsync(SchoolsFixture.Student)).AttemptsAsync(ct: Cancel)).Items;
        Assert.True(Place(february) < Place(january));
        Assert.Equal(
            listed.Select(a => a.FlownAtUtc ?? a.UploadedAtUtc).OrderDescending(),
            listed.Select(a => a.FlownAtUtc ?? a.UploadedAtUtc)
        );

        int Place(Guid id) => listed.ToList().FindIndex(a => a.AttemptId == id);
    }

    [Fact]
    public async Task The_job_twice_and_twice_at_once_gives_one_report()
    {
        var attemptId = await app.UploadAsync((await app.AssignAsync("timed-turns")).Id, "f13.csv");
        await Task.WhenAll(app.ScoreAsync(attemptId), app.ScoreAsync(attemptId));
        await app.ScoreAsync(attemptId);
        Assert.Equal(1, await app.QueryAsync(db => db.ScoreReports.CountAsync(r => r.AttemptId == attemptId, Cancel)));
        Assert.Equal(
            1,
            await app.QueryAsync(db =>
                db.TrackPlots.CountAsync(p => db.ScoreReports.Any(r => r.Id == p.ReportId && r.AttemptId == attemptId), Cancel)
            )
        );
        Assert.Equal(AttemptStatus.Scored, (await (await app.AsAsync(SchoolsFixture.Student)).AttemptAsync(attemptId, Cancel)).Status);
    }

    [Fact]
    public async Task A_flight_without_the_drill_ends_unscorable_with_its_reason()
    {
        // Three and a half minutes of a racetrack hold no box of fourteen.
        var attemptId = await app.ScoredAsync("box-circles", "f12.csv");
        var attempt = await (await app.AsAsync(SchoolsFixture.Student)).AttemptAsync(attemptId, Cancel);
        Assert.Equal(AttemptStatus.Unscorable, attempt.Status);
        Assert.NotEmpty(attempt.Reason!);
        Assert.Empty(attempt.Score?.Segments ?? []);
    }

    [Fact]
    public async Task A_job_for_an_attempt_that_is_gone_ends_quietly() => await app.ScoreAsync(Guid.CreateVersion7());

    [Fact]
    public async Task A_preview_comes_with_the_columns_for_its_plots_where_they_are_asked_for()
    {
        await using var track = SchoolsFixture.Recording("f13.csv");
        var preview = await (await app.AsAsync(SchoolsFixture.Student)).ScorePreviewWithTrackAsync(
            "timed-turns",
            track,
            "f13.csv",
            new AttemptMeta(),
            Cancel
        );
        Assert.True(preview.Report.Found);
        // 400 records, one a second.
        Assert.Equal(400, preview.Track.TimeS.Length);
        Assert.NotEmpty(preview.Track.NominalLatDeg);
    }

    [Fact]
    public async Task A_plot_is_the_same_in_JSON_and_in_binary()
    {
        var attemptId = await app.ScoredAsync("racetrack", "f12.csv");
        using var http = await app.HttpAsync(SchoolsFixture.Student);
        var columns = await new SchoolDrillsClient(http).TrackAsync(attemptId, Cancel);
        Assert.True(columns.TimeS.Length > 300);
        Assert.All(
            (int[])
                [
                    columns.LatDeg.Length,
                    columns.LonDeg.Length,
                    columns.AltitudeFt.Length,
                    columns.HeadingTargetMagDeg.Length,
                    columns.AirspeedBandKt.Length,
                    columns.SegmentIndex.Length,
                ],
            n => Assert.Equal(columns.TimeS.Length, n)
        );
        Assert.True(columns.NominalTimeS.Length > 100);
        Assert.All((int[])[columns.NominalLatDeg.Length, columns.NominalLonDeg.Length], n => Assert.Equal(columns.NominalTimeS.Length, n));

        http.DefaultRequestHeaders.Accept.Add(new MediaTypeWithQualityHeaderValue("application/octet-stream"));
        var bytes = await http.GetByteArrayAsync($"/api/v1/attempts/{attemptId}/track", Cancel);
        var headerLength = BinaryPrimitives.ReadInt32LittleEndian(bytes);
        using var header = JsonDocument.Parse(bytes.AsMemory(4, headerLength));
        Assert.Equal(columns.TimeS.Length, header.RootElement.GetProperty("count").GetInt32());
        var at = 4 + headerLength;
        foreach (var column in header.RootElement.GetProperty("columns").EnumerateArray())
        {
            var length = column.GetProperty("length").GetInt32();
            if (column.GetProperty("name").GetString() == "latDeg")
            {
                Assert.Equal(
                    columns.LatDeg,
                    Enumerable.Range(0, length).Select(i => BinaryPrimitives.ReadDoubleLittleEndian(bytes.AsSpan(at + (8 * i))))
                );
            }

            if (column.GetProperty("name").GetString() == "altitudeFt")
                Assert.Equal(columns.AltitudeFt[7]!.Value, BinaryPrimitives.ReadSingleLittleEndian(bytes.AsSpan(at + 28)), 0.01);
            at += length * (column.GetProperty("type").GetString() == "float64" ? 8 : 4);
        }

        Assert.Equal(bytes.Length, at);
    }

    [Fact]
    public async Task An_attempt_that_waits_tells_its_place_and_has_no_plot()
    {
        var first = await app.UploadAsync((await app.AssignAsync("vertical-s-turning")).Id, "f10.gpx");
        var second = await app.UploadAsync((await app.AssignAsync("vertical-s-turning")).Id, "f10.csv");
        var student = await app.AsAsync(SchoolsFixture.Student);
        var firstPlace = (await student.AttemptAsync(first, Cancel)).QueuePosition;
        Assert.Equal(firstPlace + 1, (await student.AttemptAsync(second, Cancel)).QueuePosition);
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => student.TrackAsync(first, Cancel));
    }

    [Fact]
    public async Task A_preview_scores_as_the_job_does_and_keeps_nothing()
    {
        var kept = await app.QueryAsync(db => db.Attempts.CountAsync(Cancel));
        await using var track = SchoolsFixture.Recording("f13.csv");
        var report = await (await app.AsAsync(SchoolsFixture.FarStudent)).ScorePreviewAsync(
            "timed-turns",
            track,
            "f13.csv",
            new AttemptMeta(),
            Cancel
        );
        Assert.True(report.Found);
        // Handbook timed turns: 1:00 straight, right 90, 0:30, left 180, 0:30, right 360, 1:00.
        Assert.Equal(
            [
                SegmentKind.LevelStraight,
                SegmentKind.LevelTurn,
                SegmentKind.LevelStraight,
                SegmentKind.LevelTurn,
                SegmentKind.LevelStraight,
                SegmentKind.LevelTurn,
                SegmentKind.LevelStraight,
            ],
            report.Segments.Select(s => s.Kind)
        );
        Assert.Equal(kept, await app.QueryAsync(db => db.Attempts.CountAsync(Cancel)));
    }

    [Fact]
    public async Task A_preview_of_what_cannot_be_read_is_refused()
    {
        var student = await app.AsAsync(SchoolsFixture.Student);
        using var nonsense = new MemoryStream("This is a letter, not a recording."u8.ToArray());
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => student.ScorePreviewAsync("timed-turns", nonsense, "letter.txt", new AttemptMeta(), Cancel)
        );
        await using var track = SchoolsFixture.Recording("f13.csv");
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => student.ScorePreviewAsync("no-such-drill", track, "f13.csv", new AttemptMeta(), Cancel)
        );
    }
}
