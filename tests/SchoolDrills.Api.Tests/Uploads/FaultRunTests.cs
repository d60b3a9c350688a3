using System.Diagnostics;
using System.Globalization;
using SchoolDrills.Api.Data.Postgres;
using Xunit;

namespace SchoolDrills.Api.Tests.Uploads;

/// <summary>The short form of <c>tests/SchoolDrills.Faults</c>: each kind of fault once, while recordings come in.</summary>
[Collection<FaultRunTests.Alone>]
public sealed class FaultRunTests
{
    [Fact(Timeout = 600_000)]
    public async Task No_recording_is_lost_doubled_or_left_unscored_while_hosts_are_killed_and_cut_off()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "The faults are signals and disks of Linux.");
        Assert.SkipWhen(PostgresBinaries.FindAll().Count == 0, "PostgreSQL's own programs are not installed.");
        var cancel = TestContext.Current.CancellationToken;
        var start = new ProcessStartInfo(
            "dotnet",
            [Path.Combine(AppContext.BaseDirectory, "SchoolDrills.Faults.dll"), "--uploads", "40", "--clients", "4", "--minutes-most", "4"]
        )
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        using var run = Process.Start(start)!;
        // It takes its hosts and its database along only where it may end by itself.
        await using var broken = cancel.Register(() =>
            Process.Start("kill", ["-TERM", run.Id.ToString(CultureInfo.InvariantCulture)]).Dispose()
        );
        var error = run.StandardError.ReadToEndAsync(CancellationToken.None);
        var output = await run.StandardOutput.ReadToEndAsync(CancellationToken.None);
        await run.WaitForExitAsync(CancellationToken.None);
        Assert.True(run.ExitCode == 0, output + await error);
        Assert.Contains("| accepted | 40 |", output);
    }

    /// <summary>It takes every core, and others' waits with them.</summary>
    [CollectionDefinition(DisableParallelization = true)]
    public sealed class Alone;
}
