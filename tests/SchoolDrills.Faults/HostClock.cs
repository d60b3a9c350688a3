using System.Buffers.Binary;
using System.Diagnostics;

namespace SchoolDrills.Faults;

/// <summary>
/// The wall clock of one host, which can be set while it runs. A small library that is loaded before all others (<c>clock.c</c>) adds as
/// many seconds as a file says to what the system's clock answers; clocks that only measure time go on as they are.
/// </summary>
internal sealed class HostClock
{
    /// <summary>So far that a difference between two hosts is told from waiting.</summary>
    public const int LeastHours = 2;

    private const string Library = "clock.so";

    private readonly string library;
    private readonly string file;

    private HostClock(string library, string file)
    {
        this.library = library;
        this.file = file;
        File.WriteAllBytes(file, new byte[sizeof(long)]);
    }

    public TimeSpan Ahead { get; private set; }

    /// <summary>Compiles the library into a folder, where a compiler is at hand.</summary>
    public static async Task BuildAsync(string folder)
    {
        if (!OperatingSystem.IsLinux())
            return;
        try
        {
            var source = Path.Combine(AppContext.BaseDirectory, "clock.c");
            await Signals.RunAsync("cc", "-O2", "-shared", "-fPIC", "-o", Path.Combine(folder, Library), source);
        }
        catch (System.ComponentModel.Win32Exception)
        {
            // No compiler: told in the report.
        }
    }

    /// <returns>Null where the library is not there.</returns>
    public static HostClock? Make(string folder, string name)
    {
        var library = Path.Combine(folder, Library);
        return File.Exists(library) ? new HostClock(library, Path.Combine(folder, name + ".clock")) : null;
    }

    public void AddTo(ProcessStartInfo start)
    {
        start.Environment["LD_PRELOAD"] = library;
        start.Environment["FAULTS_CLOCK"] = file;
    }

    public void Set(TimeSpan ahead)
    {
        Ahead = ahead;
        var seconds = new byte[sizeof(long)];
        BinaryPrimitives.WriteInt64LittleEndian(seconds, (long)ahead.TotalSeconds);
        // Written over and not anew: the host has this very file in its memory.
        using var written = new FileStream(file, FileMode.Open, FileAccess.Write, FileShare.ReadWrite);
        written.Write(seconds);
    }
}
