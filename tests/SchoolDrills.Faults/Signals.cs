using System.Diagnostics;
using System.Globalization;

namespace SchoolDrills.Faults;

/// <summary>Signals to processes by their number.</summary>
internal static class Signals
{
    public const string Kill = "KILL",
        Freeze = "STOP",
        Thaw = "CONT",
        End = "TERM";

    public static Task SendAsync(string signal, int processId) =>
        RunAsync("kill", $"-{signal}", processId.ToString(CultureInfo.InvariantCulture));

    /// <returns>Whether the program ended well.</returns>
    public static async Task<bool> RunAsync(string program, params string[] arguments)
    {
        using var process = Process.Start(
            new ProcessStartInfo(program, arguments) { RedirectStandardError = true, RedirectStandardOutput = true }
        )!;
        // What it says of a process that has just ended is of no interest.
        await Task.WhenAll(process.StandardError.ReadToEndAsync(), process.StandardOutput.ReadToEndAsync(), process.WaitForExitAsync());
        return process.ExitCode == 0;
    }
}
