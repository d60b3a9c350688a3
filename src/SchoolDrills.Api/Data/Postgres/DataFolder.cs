using System.Globalization;
using System.Security.Cryptography;

namespace SchoolDrills.Api.Data.Postgres;

/// <summary>
/// The folder that holds the private database. Whoever holds its lock owns the server in it; the lock goes with the
/// process, however it ends.
/// </summary>
/// <remarks>
/// <c>lock</c>, <c>postgres.password</c> (the owner role's, readable by its user alone), and <c>postgres/</c>, which
/// belongs to the user that serves: <c>cluster/</c> and <c>server.log</c>.
/// </remarks>
internal sealed class DataFolder : IDisposable
{
    private const UnixFileMode OwnerOnlyFile = UnixFileMode.UserRead | UnixFileMode.UserWrite;
    private const UnixFileMode OwnerOnlyFolder = OwnerOnlyFile | UnixFileMode.UserExecute;

    private readonly FileStream? heldLock;

    private DataFolder(string path, FileStream? heldLock)
    {
        Root = path;
        this.heldLock = heldLock;
    }

    public string Root { get; }

    public string ServerFolder => Path.Combine(Root, "postgres");

    public string Cluster => Path.Combine(ServerFolder, "cluster");

    public string ServerLog => Path.Combine(ServerFolder, "server.log");

    /// <summary>Major version of PostgreSQL that made the cluster, or null where there is none yet.</summary>
    public int? ClusterVersion =>
        File.Exists(Path.Combine(Cluster, "PG_VERSION"))
            ? int.Parse(File.ReadAllText(Path.Combine(Cluster, "PG_VERSION")), CultureInfo.InvariantCulture)
            : null;

    private string PasswordFile => Path.Combine(Root, "postgres.password");

    /// <summary>
    /// Where data goes if nothing is said. Never inside a source tree; for root a place the <c>postgres</c> user can reach.
    /// </summary>
    public static string DefaultRoot =>
        !OperatingSystem.IsWindows() && Environment.IsPrivilegedProcess
            ? "/var/lib/schooldrills"
            : Path.Combine(
                Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.Create),
                "schooldrills"
            );

    /// <summary>A folder that may be another process's: to read where its server is, and nothing else.</summary>
    public static DataFolder Unlocked(string root) => new(Path.GetFullPath(root), null);

    /// <summary>Makes the folder if need be and takes its lock.</summary>
    /// <exception cref="StartupRefusedException">Another process holds it, or it cannot be made or reached.</exception>
    public static async Task<DataFolder> LockAsync(string root)
    {
        var path = Path.GetFullPath(root);
        var folder = new DataFolder(path, TakeLock(path));
        try
        {
            await folder.PrepareAsync();
            return folder;
        }
        catch
        {
            folder.Dispose();
            throw;
        }
    }

    public void Dispose() => heldLock?.Dispose();

    /// <summary>The owner role's password, made on first use.</summary>
    public string ReadOrMakePassword()
    {
        if (File.Exists(PasswordFile))
            return File.ReadAllText(PasswordFile).Trim();
        if (ClusterVersion is not null)
        {
            throw new StartupRefusedException(
                $"{PasswordFile} is missing, without which the database beside it cannot be opened: put it "
                    + "back from a backup of the folder."
            );
        }

        var password = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(24));
        WriteOwnerOnly(PasswordFile, password);
        return password;
    }

    public static void WriteOwnerOnly(string path, string text)
    {
        var options = new FileStreamOptions { Mode = FileMode.Create, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
            options.UnixCreateMode = OwnerOnlyFile;
        using var writer = new StreamWriter(path, options);
        writer.Write(text);
    }

    private static FileStream TakeLock(string path)
    {
        try
        {
            Directory.CreateDirectory(path);
        }
        catch (IOException e)
        {
            throw new StartupRefusedException(
                $"The data folder {path} cannot be made ({e.Message}): set SCHOOLDRILLS_DATA to another place.",
                e
            );
        }
        catch (UnauthorizedAccessException e)
        {
            throw Closed(path, e);
        }

        try
        {
            return new FileStream(Path.Combine(path, "lock"), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException e)
        {
            throw new StartupRefusedException(
                $"Another SchoolDrills runs on the data folder {path}: stop it first, or set SCHOOLDRILLS_DATA to another folder.",
                e
            );
        }
        catch (UnauthorizedAccessException e)
        {
            throw Closed(path, e);
        }
    }

    private static StartupRefusedException Closed(string path, UnauthorizedAccessException e) =>
        new($"The data folder {path} cannot be written: set SCHOOLDRILLS_DATA to a folder of your own.", e);

    private async Task PrepareAsync()
    {
        if (!await ServerCommand.CanEnterAsync(Root))
        {
            throw new StartupRefusedException(
                $"The user postgres cannot reach {Root}: open the folder and its parents to it (chmod o+x), "
                    + "or set SCHOOLDRILLS_DATA to another folder."
            );
        }

        if (OperatingSystem.IsWindows())
            Directory.CreateDirectory(ServerFolder);
        else
            Directory.CreateDirectory(ServerFolder, OwnerOnlyFolder);
        // Each time: an earlier start may have ended between the two.
        await ServerCommand.HandOverAsync(ServerFolder);
    }
}
