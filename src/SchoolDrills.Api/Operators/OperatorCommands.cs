using Microsoft.Extensions.Configuration;
using SchoolDrills.Api.Data.Postgres;

namespace SchoolDrills.Api.Operators;

/// <summary>
/// What whoever looks after the server does with whole schools, from the command line and beside a running host. Each command ends with a
/// plain sentence and leaves an entry in the school's trail.
/// </summary>
public static class OperatorCommands
{
    /// <returns>The exit code; null where the arguments are no command of these.</returns>
    /// <exception cref="StartupRefusedException">Something an operator has to put right.</exception>
    public static async Task<int?> TryRunAsync(
        string[] args,
        IConfiguration configuration,
        TextWriter output,
        CancellationToken ct = default
    )
    {
        Func<DatabaseHost, Task>? command = args switch
        {
            ["schools", ..] => database => SchoolsCommand.RunAsync(database, args.Contains("--json"), output, ct),
            ["suspend-school", .. var rest] => database => StandingCommands.SuspendAsync(database, School(rest), output, ct),
            ["resume-school", .. var rest] => database => StandingCommands.ResumeAsync(database, School(rest), output, ct),
            ["limit-school", .. var rest] => database => StandingCommands.LimitAsync(database, School(rest), rest[1..], output, ct),
            ["export-school", .. var rest] => database =>
                ExportCommand.RunAsync(database, configuration, School(rest), FileOf(rest, 1), output, ct),
            ["import-school", .. var rest] => database => ImportCommand.RunAsync(database, configuration, FileOf(rest, 0), output, ct),
            _ => null,
        };
        if (command is null)
            return null;
        await using var joined = await DatabaseHost.JoinAsync(configuration);
        await command(joined);
        return 0;
    }

    private static string School(string[] rest) =>
        rest is [{ Length: > 0 } school, ..] && !school.StartsWith('-')
            ? school
            : throw new StartupRefusedException("Say which school: its name in quotes, or its id, as the command schools lists them.");

    private static string FileOf(string[] rest, int place) =>
        rest.Length > place && rest[place] is { Length: > 0 } file && !file.StartsWith('-')
            ? Path.GetFullPath(file)
            : throw new StartupRefusedException("Say which file: export-school SCHOOL FILE, or import-school FILE.");
}
