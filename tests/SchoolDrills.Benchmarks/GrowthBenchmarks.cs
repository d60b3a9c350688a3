namespace SchoolDrills.Benchmarks;

/// <summary>How time and memory grow with the length of a recording: as its samples, if all is well.</summary>
internal static class GrowthBenchmarks
{
    private static readonly double[] Minutes = [10, 30, 60, 120, 360];

    public static void Run()
    {
        Console.WriteLine(
            "| recording | samples | read ms | bytes to report ms | µs a sample | allocated bytes a sample | of its share of one hour |"
        );
        Console.WriteLine("| --- | --- | --- | --- | --- | --- | --- |");
        foreach (var hertz in new[] { 1, 10 })
        {
            var recordings = Minutes.Select(m => (Minutes: m, Bytes: Writer.Write(LongFlight.Of(m, hertz), "gpx"))).ToList();
            var hour = recordings.Single(r => r.Minutes == 60).Bytes;
            foreach (var (minutes, bytes) in recordings)
            {
                var samples = ReaderBenchmarks.Read(bytes).Count;
                var rounds = hertz == 1 ? 5 : 3;
                var paired = Paired.Of(rounds, () => PipelineBenchmarks.Score(bytes), () => PipelineBenchmarks.Score(hour));
                var readMs = Paired.Of(rounds, () => ReaderBenchmarks.Read(bytes));
                var allocated = Paired.Allocated(() => PipelineBenchmarks.Score(bytes));
                Console.WriteLine(
                    string.Create(
                        System.Globalization.CultureInfo.InvariantCulture,
                        $"| {minutes:0} min, {hertz} Hz | {samples:#,0} | {readMs:0.0} | {paired.OursMs:0.0} "
                            + $"| {paired.OursMs * 1000 / samples:0.0} | {(double)allocated / samples:0} | "
                            + $"{paired.Ratio * 60 / minutes:0.00} |"
                    )
                );
            }
        }
    }
}
