using System.Globalization;
using SchoolDrills.Benchmarks;

// Prints, as Markdown, how long the engine takes compared with the fastest read of the same bytes. Times of machines differ and
// drift; the two sides of a ratio are therefore measured in turns, and ratios are what to compare.
if (args is ["peak", var file])
{
    PeakMemory.ReadAndTell(file);
    return 0;
}

if (args is ["requests", var address])
{
    await RequestBenchmarks.RunAsync(new Uri(address));
    return 0;
}

if (args is ["pages", var demo])
{
    await PageBenchmarks.RunAsync(new Uri(demo));
    return 0;
}

if (args is ["dashboards", var served, var owner, .. var more])
{
    await DashboardBenchmarks.RunAsync(
        new Uri(served),
        owner,
        more is [var many] ? int.Parse(many, CultureInfo.InvariantCulture) : 1_000_000
    );
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
            + "or requests or pages with the address of a running demo school, or dashboards with that, its database's owner and a number."
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
