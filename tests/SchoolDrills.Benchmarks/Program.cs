using System.Globalization;
using SchoolDrills.Benchmarks;

// Prints, as Markdown, how long the engine takes compared with the fastest read of the same bytes. Times of machines differ and
// drift; the two sides of a ratio are therefore measured in turns, and ratios are what to compare.
if (args is ["peak", var file])
{
    PeakMemory.ReadAndTell(file);
    return 0;
}

if (args is ["requests", var address, var database])
{
    await RequestBenchmarks.RunAsync(new Uri(address), database);
    return 0;
}

if (args is ["pages", var demo])
{
    await PageBenchmarks.RunAsync(new Uri(demo));
    return 0;
}

if (args is ["load", var busy, .. var students])
{
    await LoadBenchmarks.RunAsync(
        new Uri(busy),
        students is [var count, ..] ? int.Parse(count, CultureInfo.InvariantCulture) : 200,
        students is [_, var minutes] ? int.Parse(minutes, CultureInfo.InvariantCulture) : 10
    );
    return 0;
}

if (args is ["circuits", var looked, var host, .. var open])
{
    await CircuitBenchmarks.RunAsync(
        new Uri(looked),
        int.Parse(host, CultureInfo.InvariantCulture),
        open is [var pages] ? int.Parse(pages, CultureInfo.InvariantCulture) : 100
    );
    return 0;
}

if (args is ["fill", var filled, .. var amounts])
{
    await HistoryBenchmarks.FillAsync(
        filled,
        amounts is [var attempts, ..] ? int.Parse(attempts, CultureInfo.InvariantCulture) : 1_000_000,
        amounts is [_, var schools] ? int.Parse(schools, CultureInfo.InvariantCulture) : 50
    );
    return 0;
}

if (args is ["history", var few, var fewOwner, var many, var manyOwner, .. var only])
{
    await HistoryBenchmarks.RunAsync(new(new Uri(few), fewOwner), new(new Uri(many), manyOwner), only.FirstOrDefault());
    return 0;
}

var parts = new Dictionary<string, Action>
{
    ["readers"] = ReaderBenchmarks.Run,
    ["memory"] = PeakMemory.Run,
    ["pipeline"] = PipelineBenchmarks.Run,
    ["growth"] = GrowthBenchmarks.Run,
    ["matching"] = MatchingBenchmarks.Run,
    ["editor"] = EditorBenchmarks.Run,
};
if (args.FirstOrDefault(a => !parts.ContainsKey(a)) is { } unknown)
{
    Console.Error.WriteLine(
        $"There is no part {unknown}: give some of {string.Join(", ", parts.Keys)}, none for all, "
            + "or requests, pages, load, circuits, fill or history with a running demo school (Api README, \"How far back\")."
    );
    return 1;
}

foreach (var (name, run) in parts)
{
    if (args.Length > 0 && !args.Contains(name))
        continue;
    Console.WriteLine($"## {name}");
    Console.WriteLine();
    run();
    Console.WriteLine();
}

return 0;
