using System.IO.Compression;
using System.Net;
using System.Net.Sockets;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Api.Tests.Data;
using Xunit;

namespace SchoolDrills.Api.Tests.Recovery;

/// <summary>What is archived of the log, and where it cannot be.</summary>
public sealed class LogArchiveTests : IDisposable
{
    private readonly TemporaryFolder folder = new();

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private string Data => Path.Combine(folder.FullPath, "data");

    private string Archive => Path.Combine(folder.FullPath, "archive");

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task A_server_left_by_a_killed_host_archives_once_a_host_that_wants_it_takes_over()
    {
        await using (var first = await PrivatePostgres.StartAsync(Data, ct: Cancel))
            Assert.Equal("off", await ModeAsync(first));
        // As a killed host leaves it: running, and nobody's.
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        var port = ((IPEndPoint)listener.LocalEndpoint).Port;
        listener.Stop();
        var cluster = Path.Combine(Data, "postgres", "cluster");
        var started = await ServerCommand.RunAsync(
            PostgresBinaries.Choose(null).PgCtl,
            [
                "-D",
                cluster,
                "-w",
                "-l",
                cluster + ".log",
                "-o",
                $"-c port={port} -c listen_addresses=127.0.0.1 -c unix_socket_directories=",
                "start",
            ]
        );
        Assert.Equal((0, ""), (started.ExitCode, started.ExitCode == 0 ? "" : started.Output));
        var left = (await File.ReadAllLinesAsync(Path.Combine(cluster, "postmaster.pid"), Cancel))[0];

        await using var next = await PrivatePostgres.StartAsync(Data, archive: Archive, ct: Cancel);
        Assert.Equal("on", await ModeAsync(next));
        Assert.NotEqual(left, (await File.ReadAllLinesAsync(Path.Combine(cluster, "postmaster.pid"), Cancel))[0]);
    }

    [Theory]
    [InlineData("same", 0)]
    [InlineData("other", 1)]
    public async Task A_piece_that_is_there_already_is_not_overwritten_and_the_same_one_sent_again_is_kept(string content, int exitCode)
    {
        Directory.CreateDirectory(Archive);
        const string Name = "000000010000000000000001";
        var (piece, kept) = (Path.Combine(folder.FullPath, "piece"), Path.Combine(Archive, Name + ".gz"));
        await File.WriteAllTextAsync(piece, "same", Cancel);
        await DatabaseScript.DoneAsync(Data, "archive-log.sh", piece, Name, Archive);
        await File.WriteAllTextAsync(piece, content, Cancel);
        var (again, _, error) = await DatabaseScript.RunAsync(Data, "archive-log.sh", piece, Name, Archive);
        Assert.Equal(exitCode, again);
        await using var compressed = File.OpenRead(kept);
        using var reader = new StreamReader(new GZipStream(compressed, CompressionMode.Decompress));
        Assert.Equal("same", await reader.ReadToEndAsync(Cancel));
        Assert.Equal(
            exitCode == 0
                ? ""
                : $"{kept} holds another piece of log: give each database, and each recovered one, an archive folder of its own.",
            error
        );
        Assert.Equal([kept], Directory.EnumerateFiles(Archive));
    }

    [Fact]
    public async Task A_place_that_cannot_be_an_archive_is_refused_in_one_sentence()
    {
        await File.WriteAllTextAsync(Archive, "a file", Cancel);
        var refusal = await Assert.ThrowsAsync<StartupRefusedException>(() =>
            PrivatePostgres.StartAsync(Data, archive: Path.Combine(Archive, "below"), ct: Cancel)
        );
        Assert.StartsWith($"The log archive {Path.Combine(Archive, "below")} cannot be made (", refusal.Message);
        Assert.EndsWith(": set SCHOOLDRILLS_WAL_ARCHIVE to another place.", refusal.Message);
        await using var server = await PrivatePostgres.StartAsync(Data, ct: Cancel);
        Assert.Equal("off", await ModeAsync(server));
    }

    private static async Task<object?> ModeAsync(PrivatePostgres server)
    {
        await using var owner = await RawSql.OpenAsync(server.OwnerConnectionString);
        return await owner.ScalarAsync("show archive_mode");
    }
}
