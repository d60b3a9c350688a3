namespace SchoolDrills.Faults;

/// <summary>A disk of a few megabytes, in memory, that can be filled.</summary>
internal sealed class SmallDisk
{
    private const int SizeMb = 16;

    private SmallDisk(string folder) => Folder = folder;

    public string Folder { get; }

    private string Ballast => Path.Combine(Folder, "ballast");

    /// <returns>Null where this process may not mount one.</returns>
    public static async Task<SmallDisk?> MountAsync(string folder)
    {
        Directory.CreateDirectory(folder);
        return OperatingSystem.IsLinux() && await Signals.RunAsync("mount", "-t", "tmpfs", "-o", $"size={SizeMb}m", "tmpfs", folder)
            ? new SmallDisk(folder)
            : null;
    }

    public async Task FillAsync()
    {
        await using var ballast = new FileStream(Ballast, FileMode.Create, FileAccess.Write, FileShare.None, bufferSize: 0);
        var block = new byte[4096];
        try
        {
            while (true)
                await ballast.WriteAsync(block);
        }
        catch (IOException)
        {
            // Full, which was the aim.
        }
    }

    public void Empty() => File.Delete(Ballast);

    public Task UnmountAsync() => Signals.RunAsync("umount", "-l", Folder);
}
