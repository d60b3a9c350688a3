using System.Diagnostics;
using Xunit;

namespace SchoolDrills.Api.Tests.Recovery;

/// <summary>The scripts of db/ as an operator runs them.</summary>
internal static class DatabaseScript
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static string Folder
    {
        get
        {
            var folder = new DirectoryInfo(AppContext.BaseDirectory);
            while (!File.Exists(Path.Combine(folder!.FullName, "SchoolDrills.sln")))
                folder = folder.Parent;
            return Path.Combine(folder.FullName, "db");
        }
    }

    /// <param name="data">The data folder of the private database.</param>
    public static Process Start(string data, string script, params string[] arguments)
    {
        var start = new ProcessStartInfo("bash", [Path.Combine(Folder, script), .. arguments])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment["SCHOOLDRILLS_DATA"] = data;
        foreach (var name in start.Environment.Keys.Where(n => n.StartsWith("PG", StringComparison.Ordinal)).ToList())
            start.Environment.Remove(name);
        return Process.Start(start)!;
    }

    public static async Task<(int ExitCode, string Output, string Error)> RunAsync(string data, string script, params string[] arguments)
    {
        using var run = Start(data, script, arguments);
        var error = run.StandardError.ReadToEndAsync(Cancel);
        var output = await run.StandardOutput.ReadToEndAsync(Cancel);
        await run.WaitForExitAsync(Cancel);
        return (run.ExitCode, output.Trim(), (await error).Trim());
    }

    /// <summary>Runs a script that has to end well.</summary>
    /// <returns>What it said.</returns>
    public static async Task<string> DoneAsync(string data, string script, params string[] arguments)
    {
        var (exitCode, output, error) = await RunAsync(data, script, arguments);
        Assert.True(exitCode == 0, $"{script}: {output} {error}");
        return output;
    }

    /// <summary>Runs a script that has to refuse.</summary>
    /// <returns>The last line of what it said.</returns>
    public static async Task<string> RefusedAsync(string data, string script, params string[] arguments)
    {
        var (exitCode, _, error) = await RunAsync(data, script, arguments);
        Assert.Equal((script, 1), (script, exitCode));
        return error.Split('\n')[^1];
    }
}
