using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Api.Setup;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Data;

/// <summary>The host as an operator meets it: a process with a data folder, a port and signals.</summary>
public sealed class HostProcessTests : IDisposable
{
    private readonly TemporaryFolder folder = new();

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private string PostmasterFile => Path.Combine(folder.FullPath, "postgres", "cluster", "postmaster.pid");

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task A_killed_host_leaves_its_database_to_the_next_one_which_stops_it_in_the_end()
    {
        using (var host = Start("http://127.0.0.1:0"))
        {
            await HostProgram.ReadUntilReadyAsync(host);
            var second = Start("http://127.0.0.1:0");
            Assert.Equal(
                (
                    1,
                    $"Another SchoolDrills runs on the data folder {folder.FullPath}: stop it first, or set "
                        + "SCHOOLDRILLS_DATA to another folder."
                ),
                await HostProgram.EndAsync(second)
            );
            host.Kill();
            await host.WaitForExitAsync(Cancel);
        }

        Assert.True(File.Exists(PostmasterFile), "The server outlives a killed host.");
        await using (var next = await PrivatePostgres.StartAsync(folder.FullPath, ct: Cancel))
            Assert.True(next.Adopted);
        Assert.False(File.Exists(PostmasterFile));
    }

    [Fact]
    public async Task SIGTERM_stops_the_host_and_its_database()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows has no SIGTERM.");
        using var host = Start("http://127.0.0.1:0");
        await HostProgram.ReadUntilReadyAsync(host);
        Assert.Equal((0, ""), await HostProgram.StopAsync(host));
        Assert.False(File.Exists(PostmasterFile));
    }

    [Fact]
    public async Task A_busy_port_is_told_in_one_sentence_and_leaves_no_database_running()
    {
        using var taken = new TcpListener(IPAddress.Loopback, 0);
        taken.Start();
        var address = $"http://127.0.0.1:{((IPEndPoint)taken.LocalEndpoint).Port}";
        using var host = Start(address);
        var (exitCode, error) = await HostProgram.EndAsync(host);
        Assert.Equal(
            (
                1,
                $"Failed to bind to address {address}: address already in use: set SCHOOLDRILLS_PORT to "
                    + "another port, or stop what uses this one."
            ),
            (exitCode, error)
        );
        Assert.False(File.Exists(PostmasterFile));
    }

    [Fact]
    public async Task A_link_for_one_more_school_is_printed_beside_a_running_host_and_without_one()
    {
        using (var host = Start("http://127.0.0.1:0"))
        {
            var address = await HostProgram.ReadUntilReadyAsync(host);
            using var http = new HttpClient { BaseAddress = new Uri(address) };
            var client = new SchoolDrillsClient(http);
            foreach (var school in new[] { "north", "south" })
                await client.FirstRunAsync(Founding(school, await NewSchoolTokenAsync(address)), Cancel);

            // Each chief is at home in his own school, and sees nobody of the other.
            foreach (var school in new[] { "north", "south" })
            {
                var tokens = await client.SignInAsync(new SignIn($"chief@{school}.example", Founding(school, "").Password), Cancel);
                http.DefaultRequestHeaders.Authorization = new("Bearer", tokens.AccessToken);
                Assert.Equal(school, (await client.MeAsync(Cancel)).School.Name);
                Assert.Equal(school, Assert.Single(await client.PeopleAsync(ct: Cancel)).DisplayName);
                http.DefaultRequestHeaders.Authorization = null;
            }

            host.Kill();
            await host.WaitForExitAsync(Cancel);
        }

        Assert.NotEmpty(await NewSchoolTokenAsync("https://drills.example"));
        await using (var next = await PrivatePostgres.StartAsync(folder.FullPath, ct: Cancel))
            Assert.True(next.Adopted, "The command leaves a server that it did not start.");
        Assert.NotEmpty(await NewSchoolTokenAsync("https://drills.example"));
        Assert.False(File.Exists(PostmasterFile), "The command stops the server that it started.");
    }

    private static FirstRun Founding(string school, string token) =>
        new(token, school, "Pacific/Auckland", school, $"chief@{school}.example", "attitude plus power");

    private async Task<string> NewSchoolTokenAsync(string address)
    {
        using var command = Start(address, NewSchoolCommand.Name);
        var output = await command.StandardOutput.ReadToEndAsync(Cancel);
        Assert.Equal((0, ""), await HostProgram.EndAsync(command));
        var link = Assert.Single(output.Split(' '), word => word.StartsWith(address + "/first-run?token=", StringComparison.Ordinal));
        return link.Trim().Split('=')[1];
    }

    private Process Start(string address, params string[] command) => HostProgram.Start(folder.FullPath, address, command);
}
