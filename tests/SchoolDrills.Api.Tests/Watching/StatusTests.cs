using Microsoft.EntityFrameworkCore;
using Npgsql;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Api.Tests.Watching;

public sealed class StatusTests(StatusTests.Backed app) : IClassFixture<StatusTests.Backed>
{
    private static readonly DateTimeOffset BackedUpAtUtc = DateTimeOffset.UtcNow.AddDays(-3);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_chief_sees_his_schools_recordings_and_of_the_installation_numbers_and_times()
    {
        var attemptId = await app.ScoredAsync("box-circles", "f01.gpx");
        // No worker runs here: what is not scored by the test waits.
        await app.UploadAsync((await app.AssignAsync("racetrack")).Id, "f12.csv");
        var client = await app.AsAsync(SchoolsFixture.Chief);
        var chief = await client.StatusAsync(Cancel);
        // An answer may be a second old.
        for (var tries = 0; chief.Waiting.All == 0 && tries < 100; tries++)
        {
            await Task.Delay(100, Cancel);
            chief = await client.StatusAsync(Cancel);
        }

        Assert.Equal((1, 1), (chief.Waiting.All, chief.Waiting.OfSchool));
        Assert.True(chief.Storage.RecordingBytes > 0);
        Assert.Equal(attemptId, chief.LastScored!.AttemptId);
        Assert.True(chief.LastScored.TookS > 0);

        var far = await (await app.AsAsync(SchoolsFixture.FarChief)).StatusAsync(Cancel);
        Assert.Equal(0L, far.Storage.RecordingBytes);
        Assert.Null(far.LastScored);
        Assert.Equal(0, far.Waiting.OfSchool);
        Assert.Equal(chief.Waiting.All, far.Waiting.All);
    }

    [Fact]
    public async Task Without_workers_and_with_an_old_backup_it_says_so()
    {
        var status = await (await app.AsAsync(SchoolsFixture.Chief)).StatusAsync(Cancel);
        Assert.Equal([StatusTrouble.NoWorker, StatusTrouble.BackupOld], status.Troubles);
        Assert.Equal(0, status.Workers.Count);
        Assert.Equal(12_345, status.Backup!.Bytes);
        Assert.Equal(BackedUpAtUtc, status.Backup.AtUtc, TimeSpan.FromMilliseconds(1));
        Assert.Null(status.Storage.DiskFreeBytes);
    }

    [Fact]
    public async Task Versions_are_those_that_run()
    {
        var versions = (await (await app.AsAsync(SchoolsFixture.Chief)).StatusAsync(Cancel)).Versions;
        Assert.Equal(AttemptScorer.EngineVersion, versions.Engine);
        Assert.Equal(await app.QueryAsync(db => Task.FromResult(db.Database.GetMigrations().Last())), versions.Schema);
        Assert.Matches(@"^\d+\.\d+", versions.Postgres);
        Assert.Matches(@"^\d+\.\d+\.\d+$", versions.App);
    }

    [Fact]
    public async Task A_host_that_serves_may_not_write_or_read_of_backups_but_by_the_one_function()
    {
        await using var connection = new NpgsqlConnection(app.Database.Access.App);
        await connection.OpenAsync(Cancel);
        await using var command = new NpgsqlCommand("select * from setup.backups", connection);
        var refused = await Assert.ThrowsAsync<PostgresException>(() => command.ExecuteReaderAsync(Cancel));
        Assert.Equal(PostgresErrorCodes.InsufficientPrivilege, refused.SqlState);
    }

    /// <summary>A database that was backed up three days ago.</summary>
    public sealed class Backed : SchoolsFixture
    {
        protected override async Task LookBeforeStartAsync()
        {
            await using var owner = new NpgsqlConnection(Database.OwnerConnectionString);
            await owner.OpenAsync(Cancel);
            await using var note = new NpgsqlCommand("insert into setup.backups values ($1, 12345)", owner)
            {
                Parameters = { new() { Value = BackedUpAtUtc.UtcDateTime } },
            };
            await note.ExecuteNonQueryAsync(Cancel);
        }
    }
}
