using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Benchmarks;

/// <summary>Each reader compared with a bare pass over the same bytes, for a lesson of an hour at 1 and at 10 samples a second.</summary>
internal static class ReaderBenchmarks
{
    public static readonly string[] Formats = ["gpx", "kml", "igc", "nmea", "csv"];

    public static void Run()
    {
        Console.WriteLine("| format | Hz | samples | MB | reader ms | bare pass ms | ratio | allocated bytes a sample |");
        Console.WriteLine("| --- | --- | --- | --- | --- | --- | --- | --- |");
        foreach (var hertz in new[] { 1, 10 })
        {
            foreach (var format in Formats.Where(f => f != "igc" || hertz == 1))
            {
                var bytes = Writer.Write(LongFlight.Of(60, hertz), format);
                var samples = Read(bytes).Count;
                var paired = Paired.Of(hertz == 1 ? 9 : 5, () => Read(bytes), () => BarePass.Over(format, bytes));
                var allocated = Paired.Allocated(() => Read(bytes));
                Console.WriteLine(
                    string.Create(
                        System.Globalization.CultureInfo.InvariantCulture,
                        $"| {format} | {hertz} | {samples:#,0} | {bytes.Length / 1e6:0.0} | "
                            + $"{paired.OursMs:0.0} | {paired.TheirsMs:0.0} | {paired.Ratio:0.00} | {(double)allocated / samples:0} |"
                    )
                );
            }
        }
    }

    public static Track Read(byte[] bytes)
    {
        var result = TrackReader.Read(new MemoryStream(bytes));
        return result.Track ?? throw new InvalidOperationException(result.Problem!.Message);
    }
}
