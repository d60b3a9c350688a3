using System.Diagnostics;
using System.Globalization;
using Npgsql;
using SchoolDrills.Api.Data.Postgres;
using Xunit;

namespace SchoolDrills.Api.Tests.Data;

/// <summary>The private server's life in its data folder. Durability is on: ending uncleanly is part of what is tested.</summary>
public sealed class PrivatePostgresTests : IDisposable
{
    private readonly TemporaryFolder folder = new();

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task A_second_start_finds_what_the_first_one_kept()
    {
        // Left of a first start that was cut off half-way: never taken for a cluster.
        Directory.CreateDirectory(Path.Combine(folder.FullPath, "postgres", "cluster.unfinished"));
        await using (var first = await PrivatePostgres.StartAsync(folder.FullPath, ct: Cancel))
        {
            Assert.False(first.Adopted);
            await ExecuteAsync(first, "create table kept (word text); insert into kept values ('hello')");
        }

        Assert.False(File.Exists(PostmasterFile), "The server is stopped with its owner.");
        await using var second = await PrivatePostgres.StartAsync(folder.FullPath, ct: Cancel);
        Assert.Equal("hello", await ScalarAsync(second, "select word from kept"));
    }

    [Fact]
    public async Task A_folder_in_use_is_refused_in_one_sentence_that_names_it()
    {
        await using var first = await PrivatePostgres.StartAsync(folder.FullPath, ct: Cancel);
        var refusal = await Assert.ThrowsAsync<StartupRefusedException>(() => PrivatePostgres.StartAsync(folder.FullPath, ct: Cancel));
        Assert.Equal(
            $"Another SchoolDrills runs on the data folder {folder.FullPath}: stop it first, or set SCHOOLDRILLS_DATA to another folder.",
            refusal.Message
        );
        Assert.Equal(1, await ScalarAsync(first, "select 1"));
    }

    [Fact]
    public async Task A_server_that_ended_uncleanly_is_started_again_with_all_that_was_committed()
    {
        string postmaster;
        await using (var first = await PrivatePostgres.StartAsync(folder.FullPath, ct: Cancel))
        {
            await ExecuteAsync(first, "create table kept (word text); insert into kept values ('hello')");
            postmaster = await File.ReadAllTextAsync(PostmasterFile, Cancel);
            // Immediate: no checkpoint, so that the next start has to recover.
            var cluster = Path.GetDirectoryName(PostmasterFile)!;
            await ServerCommand.RunAsync(PostgresBinaries.Choose(null).PgCtl, "-D", cluster, "-m", "immediate", "-w", "stop");
        }

        // As a power cut leaves it: a lock file of a process that is no more (numbers end at 2^22 on Linux).
        await File.WriteAllTextAsync(PostmasterFile, "4194304" + postmaster[postmaster.IndexOf('\n')..], Cancel);
        await ServerCommand.HandOverAsync(PostmasterFile);

        await using var second = await PrivatePostgres.StartAsync(folder.FullPath, ct: Cancel);
        Assert.False(second.Adopted);
        Assert.Equal("hello", await ScalarAsync(second, "select word from kept"));
    }

    [Fact]
    public async Task A_server_that_is_killed_under_its_host_is_started_again_on_its_port()
    {
        Task<string?> watch;
        await using (var server = await PrivatePostgres.StartAsync(folder.FullPath, ct: Cancel))
        {
            watch = server.WatchAsync();
            await ExecuteAsync(server, "create table kept (word text); insert into kept values ('hello')");
            for (var death = 0; death < 2; death++)
            {
                var killed = (await File.ReadAllLinesAsync(PostmasterFile, Cancel))[0];
                Process.GetProcessById(int.Parse(killed, CultureInfo.InvariantCulture)).Kill();
                NpgsqlConnection.ClearAllPools();
                Assert.Equal("hello", await AnsweredAsync(server, "select word from kept"));
                Assert.NotEqual(killed, (await File.ReadAllLinesAsync(PostmasterFile, Cancel))[0]);
            }

            Assert.False(watch.IsCompleted);
        }

        Assert.Null(await watch);
    }

    /// <summary>The answer of a server that may take half a minute to be there again.</summary>
    private static async Task<object?> AnsweredAsync(PrivatePostgres server, string sql)
    {
        var giveUpAt = DateTime.UtcNow.AddSeconds(60);
        while (true)
        {
            try
            {
                return await ScalarAsync(server, sql);
            }
            catch (NpgsqlException) when (DateTime.UtcNow < giveUpAt)
            {
                await Task.Delay(200, Cancel);
            }
        }
    }

    [Fact]
    public async Task The_server_listens_on_loopback_alone_and_wants_a_password()
    {
        await using var server = await PrivatePostgres.StartAsync(folder.FullPath, ct: Cancel);
        Assert.Equal("127.0.0.1", await ScalarAsync(server, "show listen_addresses"));
        Assert.Equal("", await ScalarAsync(server, "show unix_socket_directories"));
        var wrong = new NpgsqlConnectionStringBuilder(server.OwnerConnectionString) { Password = "guess", Pooling = false };
        await using var connection = new NpgsqlConnection(wrong.ConnectionString);
        var refusal = await Assert.ThrowsAsync<PostgresException>(() => connection.OpenAsync(Cancel));
        Assert.Equal(PostgresErrorCodes.InvalidPassword, refusal.SqlState);
        if (!OperatingSystem.IsWindows())
        {
            Assert.Equal(
                UnixFileMode.UserRead | UnixFileMode.UserWrite,
                File.GetUnixFileMode(Path.Combine(folder.FullPath, "postgres.password"))
            );
        }
    }

    /// <summary>Here and not beside the other refusals, because roles belong to the whole server.</summary>
    [Theory]
    [InlineData(
        "grant pg_read_all_data to schooldrills_app",
        "Role schooldrills_app could act as another role: revoke what it is a member of."
    )]
    [InlineData(
        "grant schooldrills_lookup to schooldrills_jobs",
        "Role schooldrills_jobs could act as another role: revoke what it is a member of."
    )]
    [InlineData(
        "alter role schooldrills_accounts bypassrls",
        "Role schooldrills_accounts could read across schools: take SUPERUSER, BYPASSRLS, CREATEROLE and REPLICATION from it."
    )]
    public async Task A_role_that_was_given_more_stops_the_start(string change, string refusal)
    {
        await using var server = await PrivatePostgres.StartAsync(folder.FullPath, ct: Cancel);
        var access = DatabaseAccess.From(server.OwnerConnectionString);
        await DatabaseSetup.PrepareAsync(access, ct: Cancel);
        await ExecuteAsync(server, change);
        Assert.Equal(
            refusal,
            (await Assert.ThrowsAsync<StartupRefusedException>(() => DatabaseSetup.PrepareAsync(access, ct: Cancel))).Message
        );
    }

    private string PostmasterFile => Path.Combine(folder.FullPath, "postgres", "cluster", "postmaster.pid");

    private static async Task ExecuteAsync(PrivatePostgres server, string sql) => await ScalarAsync(server, sql);

    private static async Task<object?> ScalarAsync(PrivatePostgres server, string sql)
    {
        await using var connection = new NpgsqlConnection(server.OwnerConnectionString);
        await connection.OpenAsync(Cancel);
        await using var command = new NpgsqlCommand(sql, connection);
        return await command.ExecuteScalarAsync(Cancel);
    }
}
