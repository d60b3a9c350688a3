using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;

namespace SchoolDrills.Api.Data.Postgres;

/// <summary>One installation of PostgreSQL's own programs on this machine.</summary>
internal sealed partial record PostgresBinaries(string Folder, int MajorVersion)
{
    private static readonly string[] Needed = ["initdb", "postgres", "pg_ctl"];

    public string InitDb => File("initdb");

    public string PgCtl => File("pg_ctl");

    /// <summary>
    /// The installation to use: the one that made the cluster where there is a cluster, else the newest.
    /// </summary>
    /// <exception cref="StartupRefusedException">None is installed, or none of the cluster's version.</exception>
    public static PostgresBinaries Choose(int? clusterVersion)
    {
        var found = FindAll();
        if (found.Count == 0)
        {
            throw new StartupRefusedException(
                "PostgreSQL is not installed: install its server package (on Debian and Ubuntu: apt-get "
                    + "install postgresql), or set ConnectionStrings__SchoolDrills to a server of your own."
            );
        }

        if (clusterVersion is null)
            return found[0];
        return found.FirstOrDefault(f => f.MajorVersion == clusterVersion)
            ?? throw new StartupRefusedException(
                $"The database was made by PostgreSQL {clusterVersion}, and only version "
                    + $"{string.Join(", ", found.Select(f => f.MajorVersion).Distinct())} is installed: install PostgreSQL "
                    + ""
                    + ""
                    + $"{clusterVersion}, or restore a backup into a new data folder."
            );
    }

    /// <summary>Every complete installation, newest first.</summary>
    public static IReadOnlyList<PostgresBinaries> FindAll() =>
        [
            .. CandidateFolders()
                .Distinct()
                .Where(folder => Needed.All(name => System.IO.File.Exists(Path.Combine(folder, Program(name)))))
                .Select(folder => new PostgresBinaries(folder, ReadMajorVersion(folder)))
                .Where(found => found.MajorVersion > 0)
                .OrderByDescending(found => found.MajorVersion),
        ];

    private static IEnumerable<string> CandidateFolders()
    {
        foreach (
            var folder in (Environment.GetEnvironmentVariable("PATH") ?? "").Split(
                Path.PathSeparator,
                StringSplitOptions.RemoveEmptyEntries
            )
        )
        {
            yield return folder;
        }

        (string Parent, string Pattern, string Below)[] places =
        [
            ("/usr/lib/postgresql", "*", "bin"), // Debian, Ubuntu
            ("/usr", "pgsql-*", "bin"), // Red Hat, from PostgreSQL's own repository
            ("/opt/homebrew/opt", "postgresql*", "bin"),
            ("/usr/local/opt", "postgresql*", "bin"),
            (Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.ProgramFiles), "PostgreSQL"), "*", "bin"),
        ];
        foreach (var (parent, pattern, below) in places.Where(place => Directory.Exists(place.Parent)))
        {
            foreach (var folder in Directory.EnumerateDirectories(parent, pattern))
                yield return Path.Combine(folder, below);
        }
    }

    private static int ReadMajorVersion(string folder)
    {
        using var process = Process.Start(
            new ProcessStartInfo(Path.Combine(folder, Program("postgres")), "--version") { RedirectStandardOutput = true }
        )!;
        var match = VersionNumber().Match(process.StandardOutput.ReadToEnd());
        process.WaitForExit();
        return match.Success ? int.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture) : 0;
    }

    private static string Program(string name) => OperatingSystem.IsWindows() ? name + ".exe" : name;

    private string File(string name) => Path.Combine(Folder, Program(name));

    [GeneratedRegex(@"\(PostgreSQL\) (\d+)")]
    private static partial Regex VersionNumber();
}
