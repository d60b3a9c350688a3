using System.Diagnostics;

namespace SchoolDrills.Api.Data.Postgres;

/// <summary>
/// Runs PostgreSQL's programs as a user PostgreSQL accepts: it refuses to serve as root, so root hands over to
/// the <c>postgres</c> user that the system's package made.
/// </summary>
internal static class ServerCommand
{
    private const string ServerUser = "postgres";

    private static bool IsRoot => !OperatingSystem.IsWindows() && Environment.IsPrivilegedProcess;

    public static Task<(int ExitCode, string Output)> RunAsync(string program, params string[] arguments) =>
        IsRoot
            ? StartAsync("setpriv", [$"--reuid={ServerUser}", $"--regid={ServerUser}", "--init-groups", "--", program, .. arguments])
            : StartAsync(program, arguments);

    /// <summary>Gives a file or folder to the user that serves, where that is not the present one.</summary>
    public static async Task HandOverAsync(string path)
    {
        if (!IsRoot)
            return;
        var (exitCode, output) = await StartAsync("chown", [$"{ServerUser}:", path]);
        if (exitCode != 0)
        {
            throw new StartupRefusedException(
                $"The user {ServerUser} is needed to run PostgreSQL as root and could not be given {path}: {output.Trim()}."
            );
        }
    }

    /// <summary>Whether the user that serves can enter a folder, each of its parents included.</summary>
    public static async Task<bool> CanEnterAsync(string folder) => !IsRoot || (await RunAsync("test", "-x", folder)).ExitCode == 0;

    private static async Task<(int ExitCode, string Output)> StartAsync(string program, IEnumerable<string> arguments)
    {
        var start = new ProcessStartInfo(program, arguments)
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            // The present folder may be closed to the user that serves.
            WorkingDirectory = Path.GetPathRoot(Path.GetFullPath("."))!,
        };
        // Messages are matched and shown; they shall not depend on the operator's language.
        start.Environment["LC_ALL"] = "C";
        using var process = Process.Start(start)!;
        process.StandardInput.Close();
        var error = process.StandardError.ReadToEndAsync();
        var output = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        return (process.ExitCode, output + await error);
    }
}
