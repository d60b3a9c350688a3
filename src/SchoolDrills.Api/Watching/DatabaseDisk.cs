using Microsoft.Extensions.Configuration;
using SchoolDrills.Api.Data.Postgres;

namespace SchoolDrills.Api.Watching;

/// <summary>The disk of the private database; of a server that is an operator's own nothing is known here.</summary>
internal sealed class DatabaseDisk(IConfiguration configuration)
{
    /// <summary>Below this share, somebody should see to it.</summary>
    public const double LowShare = 0.1;

    private readonly string? folder =
        !string.IsNullOrWhiteSpace(configuration["ConnectionStrings:SchoolDrills"]) ? null
        : configuration["SCHOOLDRILLS_DATA"] is { } root && !string.IsNullOrWhiteSpace(root) ? root
        : DataFolder.DefaultRoot;

    /// <summary>What is free to this program and what there is at all; null where that is not known.</summary>
    public (long FreeBytes, long Bytes)? Space
    {
        get
        {
            if (folder is null)
                return null;
            try
            {
                var disk = new DriveInfo(Path.GetFullPath(folder));
                return (disk.AvailableFreeSpace, disk.TotalSize);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
            {
                return null;
            }
        }
    }
}
