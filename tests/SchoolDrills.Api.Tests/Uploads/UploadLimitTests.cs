using System.Net;
using System.Security.Cryptography;
using System.Threading.RateLimiting;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Uploads;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Uploads;

/// <summary>What many or large recordings may cost.</summary>
public sealed class UploadLimitTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(100_000)]
    [InlineData(3_000_000)]
    public async Task A_recording_is_read_as_often_as_need_be_and_leaves_no_file(int length)
    {
        var sent = RandomNumberGenerator.GetBytes(length);
        var before = TemporaryFiles();
        var http = new DefaultHttpContext();
        var track = await UploadedTrack.ReceiveAsync(http, "long.csv", new MemoryStream(sent), length, Cancel);
        Assert.Equal(length, track!.Length);
        for (var time = 0; time < 2; time++)
        {
            using var read = new MemoryStream();
            await track.Open().CopyToAsync(read, Cancel);
            Assert.Equal(sent, read.ToArray());
        }

        var stored = StoredBytes.Of(track.Open, track.Length);
        Assert.False(stored.Squeezed);
        Assert.Equal(sent, stored.Content);
        // Others run meanwhile: what is new and ours would be as long as what was sent.
        Assert.DoesNotContain(TemporaryFiles().Except(before), f => new FileInfo(f) is { Exists: true } info && info.Length == length);
    }

    [Fact]
    public async Task One_byte_over_the_limit_is_refused() =>
        Assert.Null(await UploadedTrack.ReceiveAsync(new DefaultHttpContext(), "long.csv", new MemoryStream(new byte[1001]), 1000, Cancel));

    [Fact]
    public async Task A_person_waits_behind_his_own_uploads_and_nobody_else_does()
    {
        await using var limits = UploadLimits.AtOnce();
        var (sender, other) = (Guid.NewGuid(), Guid.NewGuid());
        var running = new List<RateLimitLease>();
        for (var i = 0; i < UploadLimits.AtOnceByPerson; i++)
            running.Add(await limits.AcquireAsync(Upload(sender), cancellationToken: Cancel));
        Assert.All(running, lease => Assert.True(lease.IsAcquired));

        var waiting = Enumerable
            .Range(0, UploadLimits.WaitingByPerson)
            .Select(_ => limits.AcquireAsync(Upload(sender), cancellationToken: Cancel).AsTask())
            .ToList();
        Assert.All(waiting, w => Assert.False(w.IsCompleted));
        using (var oneTooMany = await limits.AcquireAsync(Upload(sender), cancellationToken: Cancel))
            Assert.False(oneTooMany.IsAcquired);

        using (var others = await limits.AcquireAsync(Upload(other), cancellationToken: Cancel))
            Assert.True(others.IsAcquired);
        using (var page = await limits.AcquireAsync(new DefaultHttpContext(), cancellationToken: Cancel))
            Assert.True(page.IsAcquired);

        running[0].Dispose();
        using var next = await waiting[0].WaitAsync(Cancel);
        Assert.True(next.IsAcquired);
        Assert.False(waiting[1].IsCompleted);
    }

    [Fact]
    public async Task A_host_takes_so_many_at_once_from_all()
    {
        await using var limits = UploadLimits.AtOnce();
        var running = new List<RateLimitLease>();
        for (var i = 0; i < UploadLimits.AtOnceByHost; i++)
            running.Add(await limits.AcquireAsync(Upload(Guid.NewGuid()), cancellationToken: Cancel));
        Assert.All(running, lease => Assert.True(lease.IsAcquired));
        var next = limits.AcquireAsync(Upload(Guid.NewGuid()), cancellationToken: Cancel).AsTask();
        Assert.False(next.IsCompleted);
        running[0].Dispose();
        Assert.True((await next.WaitAsync(Cancel)).IsAcquired);
    }

    [Theory]
    [InlineData(UploadLimits.AttemptsADay, 1)]
    [InlineData(2, UploadLimits.BytesADay / 2)]
    public async Task A_day_takes_so_much_from_one_person(int attempts, long bytes)
    {
        var name = $"sender-{attempts}";
        await app.NewcomerAsync(name, Roles.Student);
        var student = await app.HttpAsync(name);
        await AddAttemptsAsync(app.IdOf(name), attempts, bytes, DateTimeOffset.UtcNow.AddHours(-25));
        using (var accepted = await UploadAsync(student, "f12.csv"))
            Assert.Equal(HttpStatusCode.Accepted, accepted.StatusCode);

        await AddAttemptsAsync(app.IdOf(name), attempts, bytes, DateTimeOffset.UtcNow.AddHours(-20));
        using var refused = await UploadAsync(student, "f13.csv");
        var problem = await refused.ProblemAsync(HttpStatusCode.TooManyRequests);
        Assert.EndsWith("send the rest in 4 hours.", problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
    }

    private static HashSet<string> TemporaryFiles() => [.. Directory.EnumerateFiles(Path.GetTempPath())];

    private static DefaultHttpContext Upload(Guid personId)
    {
        var http = new DefaultHttpContext();
        http.SetEndpoint(new Endpoint(null, new EndpointMetadataCollection(UploadLimits.Body), "upload"));
        http.Features.Set(new CurrentPerson(personId, Guid.Empty, Guid.Empty, "", [Roles.Student]));
        return http;
    }

    private static async Task<HttpResponseMessage> UploadAsync(HttpClient student, string recording)
    {
        await using var track = SchoolsFixture.Recording(recording);
        using var form = new MultipartFormDataContent
        {
            { new StreamContent(track), "track", recording },
            { new StringContent("""{"drill":"racetrack"}"""), "meta" },
        };
        return await student.PostAsync("/api/v1/attempts", form, Cancel);
    }

    private Task<int> AddAttemptsAsync(Guid studentId, int attempts, long bytes, DateTimeOffset uploadedAtUtc) =>
        app.QueryAsync(async db =>
        {
            var drillId = await db.DrillVersions.Where(d => d.Slug == "racetrack").Select(d => d.Id).FirstAsync(Cancel);
            db.Attempts.AddRange(
                Enumerable
                    .Range(0, attempts)
                    .Select(_ => new Attempt
                    {
                        SchoolId = app.TussockId,
                        StudentId = studentId,
                        DrillVersionId = drillId,
                        UploadedById = studentId,
                        UploadedAtUtc = uploadedAtUtc,
                        FileName = "earlier.csv",
                        FileBytes = bytes,
                        Sha256 = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(32)),
                        Meta = new AttemptMeta(),
                    })
            );
            return await db.SaveChangesAsync(Cancel);
        });
}
