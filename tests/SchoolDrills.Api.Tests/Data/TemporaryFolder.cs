namespace SchoolDrills.Api.Tests.Data;

/// <summary>A folder that is gone after the test.</summary>
internal sealed class TemporaryFolder : IDisposable
{
    // Not CreateTempSubdirectory: its folders are closed to the user that serves PostgreSQL for root.
    public string FullPath { get; } =
        Directory.CreateDirectory(Path.Combine(Path.GetTempPath(), $"schooldrills-{Guid.NewGuid():N}")).FullName;

    public void Dispose() => Directory.Delete(FullPath, recursive: true);
}
