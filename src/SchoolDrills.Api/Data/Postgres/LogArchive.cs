namespace SchoolDrills.Api.Data.Postgres;

/// <summary>
/// The folder into which the private server copies its write-ahead log, where an operator named one: with a copy of the whole server
/// (db/base-backup.sh) it brings back any moment since (db/recover-to.sh).
/// </summary>
internal static class LogArchive
{
    private const string Script = "archive-log.sh";
    private const string Place = "archive-folder";

    /// <summary>Seconds after which a piece of log is archived though it is not full: so much is lost at most with the disk.</summary>
    private const int LongestWaitS = 300;

    /// <returns>Settings for the server; none where nothing is archived.</returns>
    /// <exception cref="StartupRefusedException">The folder cannot be used.</exception>
    public static async Task<IReadOnlyList<string>> PrepareAsync(DataFolder folder, string? archive)
    {
        if (string.IsNullOrWhiteSpace(archive))
            return [];
        if (OperatingSystem.IsWindows())
            throw new StartupRefusedException("The private database archives no log on Windows: unset SCHOOLDRILLS_WAL_ARCHIVE.");
        var place = Path.GetFullPath(archive);
        await MakeAsync(place);
        await using var script = typeof(LogArchive).Assembly.GetManifestResourceStream(Script)!;
        using var reader = new StreamReader(script);
        await WriteAsync(Path.Combine(folder.ServerFolder, Script), await reader.ReadToEndAsync());
        // Read at each call: a name may hold what neither a shell nor a setting takes, and a server that is taken over follows a new one.
        await WriteAsync(Path.Combine(folder.ServerFolder, Place), place);
        return
        [
            "wal_level=replica",
            "archive_mode=on",
            $"archive_timeout={LongestWaitS}",
            $"archive_command='sh ../{Script} %p %f \"$(cat ../{Place})\"'",
        ];
    }

    private static async Task MakeAsync(string place)
    {
        try
        {
            if (!Directory.Exists(place))
            {
                Directory.CreateDirectory(place);
                await ServerCommand.HandOverAsync(place);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new StartupRefusedException(
                $"The log archive {place} cannot be made ({e.Message}): set SCHOOLDRILLS_WAL_ARCHIVE to another place.",
                e
            );
        }

        var (exitCode, _) = await ServerCommand.RunAsync("test", "-w", place, "-a", "-x", place);
        if (exitCode != 0)
        {
            throw new StartupRefusedException(
                $"The user that runs PostgreSQL cannot write the log archive {place}: give the folder to that user, "
                    + "or set SCHOOLDRILLS_WAL_ARCHIVE to another place."
            );
        }
    }

    private static async Task WriteAsync(string path, string text)
    {
        await File.WriteAllTextAsync(path, text);
        await ServerCommand.HandOverAsync(path);
    }
}
