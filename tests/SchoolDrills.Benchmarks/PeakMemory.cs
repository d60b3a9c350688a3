using System.Diagnostics;
using System.IO.Compression;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Benchmarks;

/// <summary>The most memory a process of its own needs to read the largest recording that is taken.</summary>
internal static class PeakMemory
{
    private const int Samples = 500_000;

    public static void Run()
    {
        Console.WriteLine("| format | samples | MB | peak of the process, MB | before reading, MB |");
        Console.WriteLine("| --- | --- | --- | --- | --- |");
        foreach (var format in ReaderBenchmarks.Formats)
        {
            // IGC times are whole seconds, so its lesson is ten times as long.
            var flight = LongFlight.Of(format == "igc" ? Samples / 60.0 : Samples / 600.0, format == "igc" ? 1 : 10);
            var file = Path.GetTempFileName();
            try
            {
                var bytes = Writer.Write(flight, format);
                // Over the limit on what is sent it can only come compressed.
                File.WriteAllBytes(file, bytes.LongLength > new TrackReadOptions().MaxRawBytes ? Gzipped(bytes) : bytes);
                using var child = Process.Start(
                    new ProcessStartInfo("dotnet", [typeof(PeakMemory).Assembly.Location, "peak", file]) { RedirectStandardOutput = true }
                )!;
                var told = child.StandardOutput.ReadToEnd().Split();
                child.WaitForExit();
                Console.WriteLine(
                    FormattableString.Invariant($"| {format} | {told[0]} | {bytes.Length / 1e6:0.0} | {told[2]} | {told[1]} |")
                );
            }
            finally
            {
                File.Delete(file);
            }
        }
    }

    public static void ReadAndTell(string file)
    {
        var before = PeakMb();
        using var stream = File.OpenRead(file);
        var result = TrackReader.Read(stream);
        Console.WriteLine(FormattableString.Invariant($"{result.Track?.Count ?? 0} {before:0} {PeakMb():0}"));
    }

    private static byte[] Gzipped(byte[] bytes)
    {
        using var packed = new MemoryStream();
        using (var gzip = new GZipStream(packed, CompressionLevel.Fastest))
            gzip.Write(bytes);
        return packed.ToArray();
    }

    private static double PeakMb()
    {
        using var self = Process.GetCurrentProcess();
        return self.PeakWorkingSet64 / 1e6;
    }
}
