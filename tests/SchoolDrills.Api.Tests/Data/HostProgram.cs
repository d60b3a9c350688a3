using System.Diagnostics;
using System.Globalization;
using Xunit;

namespace SchoolDrills.Api.Tests.Data;

/// <summary>The host as a process on a data folder, as an operator starts it.</summary>
internal static class HostProgram
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public static Process Start(string folder, string address, params string[] command)
    {
        var start = new ProcessStartInfo("dotnet", [typeof(Program).Assembly.Location, .. command, "--urls", address])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = AppContext.BaseDirectory,
        };
        start.Environment["SCHOOLDRILLS_DATA"] = folder;
        start.Environment["SCHOOLDRILLS_DEMO"] = "0";
        start.Environment["SCHOOLDRILLS_METRICS"] = "off";
        start.Environment.Remove("ConnectionStrings__SchoolDrills");
        return Process.Start(start)!;
    }

    /// <returns>The address it serves on.</returns>
    public static async Task<string> ReadUntilReadyAsync(Process host)
    {
        var said = new List<string>();
        while (await host.StandardOutput.ReadLineAsync(Cancel) is { } line)
        {
            if (line.StartsWith("SchoolDrills is ready at http://127.0.0.1:", StringComparison.Ordinal))
                return line.Split(' ')[^1];
            said.Add(line);
        }

        throw new InvalidOperationException(
            $"The host ended before it was ready: {string.Join('\n', said)} {await host.StandardError.ReadToEndAsync(Cancel)}"
        );
    }

    /// <summary>Asks it to stop, and waits for its end.</summary>
    public static async Task<(int ExitCode, string Error)> StopAsync(Process host)
    {
        using (var kill = Process.Start("kill", ["-TERM", host.Id.ToString(CultureInfo.InvariantCulture)]))
            await kill.WaitForExitAsync(Cancel);
        return await EndAsync(host);
    }

    public static async Task<(int ExitCode, string Error)> EndAsync(Process host)
    {
        var output = host.StandardOutput.ReadToEndAsync(Cancel);
        var error = await host.StandardError.ReadToEndAsync(Cancel);
        await output;
        await host.WaitForExitAsync(Cancel);
        return (host.ExitCode, error.Trim());
    }
}
