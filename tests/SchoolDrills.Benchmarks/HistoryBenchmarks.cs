using System.Diagnostics;
using System.Globalization;
using Npgsql;

namespace SchoolDrills.Benchmarks;

/// <summary>
/// What every GET of the API costs after a thousand attempts and after a million: the same requests by turns to two running demo
/// schools, whose databases <see cref="InventedHistory"/> has filled. Each is read by the same person with the same hundred attempts.
/// </summary>
internal static class HistoryBenchmarks
{
    private const int WarmUpRounds = 15,
        Rounds = 40;

    /// <summary>Of slow requests fewer rounds are asked, but never less than <see cref="FewestRounds"/>.</summary>
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(12);

    private const int FewestRounds = 3;

    /// <summary>Fills the throw-away database of a running demo school, all of whose recordings are scored.</summary>
    public static async Task FillAsync(string owner, int attempts, int schools)
    {
        await using var connection = new NpgsqlConnection(owner);
        await connection.OpenAsync();
        await new InventedHistory(connection, schools).FillAsync(attempts);
    }

    /// <param name="only">Requests whose name contains this; null for all.</param>
    public static async Task RunAsync(FilledSite few, FilledSite many, string? only)
    {
        await using var fewGets = await EveryGet.OpenAsync(few);
        await using var manyGets = await EveryGet.OpenAsync(many);
        var times = new List<(Get Few, Get Many, IReadOnlyList<double> FewMs, IReadOnlyList<double> ManyMs)>();
        var asked = fewGets
            .All.Zip(manyGets.All)
            .Where(g => only is null || g.First.Name.Contains(only, StringComparison.Ordinal))
            .ToList();
        foreach (var (own, other) in asked)
        {
            Console.Error.WriteLine(own.Name);
            if (!own.IsWhole)
                await InTurnsAsync(own, other, WarmUpRounds, Longest / 4);
            var (fewMs, manyMs) = await InTurnsAsync(own, other, own.IsWhole ? FewestRounds : Rounds, Longest);
            times.Add((own, other, fewMs, manyMs));
        }

        Console.WriteLine(
            """
            | request | few: p50, p95 ms | kB | rows read | buffers | many: p50, p95 ms | kB | rows read | buffers | ratio of ms | by kB |
            | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |
            """
        );
        await using var fewPlans = await ServerPlans.OpenAsync(few.Owner);
        await using var manyPlans = await ServerPlans.OpenAsync(many.Owner);
        var dearer = new List<Get>();
        foreach (var (own, other, fewMs, manyMs) in times)
        {
            Console.Error.WriteLine(own.Name);
            // A download has a statement for each part of thousands of rows: their plans are longer than their rows.
            var fewRead = own.IsWhole ? new(await own.AskAsync(), 0, 0) : await fewPlans.CountAsync(own.AskAsync);
            var manyRead = own.IsWhole ? new(await other.AskAsync(), 0, 0) : await manyPlans.CountAsync(other.AskAsync);
            var ratio = Paired.Median(manyMs.Zip(fewMs, (m, f) => m / f));
            var byKb = ratio * fewRead.Answer / Math.Max(1, manyRead.Answer);
            Console.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"| {own.Name} | {Cells(fewMs, fewRead)} | {Cells(manyMs, manyRead)} | {ratio:0.00} | {byKb:0.00} |"
                )
            );
            if (ratio > 1.5 && !own.IsWhole)
                dearer.Add(other);
        }

        foreach (var get in dearer)
            await manyPlans.PrintAsync(get.Name, get.AskAsync);
    }

    private static async Task<(IReadOnlyList<double> FewMs, IReadOnlyList<double> ManyMs)> InTurnsAsync(
        Get few,
        Get many,
        int rounds,
        TimeSpan longest
    )
    {
        var (fewMs, manyMs) = (new List<double>(), new List<double>());
        for (var round = 0; round < rounds && (round < FewestRounds || fewMs.Sum() + manyMs.Sum() < longest.TotalMilliseconds); round++)
        {
            fewMs.Add(await TimeAsync(few));
            manyMs.Add(await TimeAsync(many));
        }

        return (fewMs, manyMs);
    }

    private static string Cells(IReadOnlyList<double> times, ReadCount read)
    {
        var sorted = times.Order().ToArray();
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{sorted[sorted.Length / 2]:0.0}, {sorted[(int)(0.95 * (sorted.Length - 1))]:0.0} | {read.Answer / 1000.0:0.0} "
                + $"| {read.Rows:#,0} | {read.Buffers:#,0}"
        );
    }

    private static async Task<double> TimeAsync(Get get)
    {
        var start = Stopwatch.GetTimestamp();
        await get.AskAsync();
        return Stopwatch.GetElapsedTime(start).TotalMilliseconds;
    }
}
