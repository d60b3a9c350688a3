using System.Diagnostics;
using System.Globalization;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Drills.Editing;

namespace SchoolDrills.Benchmarks;

/// <summary>What a keystroke in the drill editor costs in the engine, and putting two drafts together.</summary>
internal static class EditorBenchmarks
{
    private const int Times = 200;

    public static void Run()
    {
        Console.WriteLine("| segments | length min | preview of a keystroke ms, median | 95th percentile | comparison ms | merge ms |");
        Console.WriteLine("| --- | --- | --- | --- | --- | --- |");
        foreach (var count in new[] { 16, 60, 200, 500 })
        {
            var drill = Drill(count);
            var typed = Named(drill, count / 2, "typed");
            var preview = Measure(i => DraftPreview.Of(Named(drill, i % count, "typed")));
            var compared = Measure(_ => TemplateDifferences.Between(drill, typed));
            var merged = Measure(_ => TemplateMerge.Of(drill, typed, Named(drill, 0, "theirs")));
            Console.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"| {count} | {DraftPreview.Of(drill).Timeline!.DurationS / 60:0} | {Share(preview, 0.5):0.0} | "
                        + $"{Share(preview, 0.95):0.0} | {Share(compared, 0.5):0.0} | {Share(merged, 0.5):0.0} |"
                )
            );
        }
    }

    /// <summary>Legs, turns and climbs one after another, no two alike in time, with a check or a task on every third.</summary>
    private static DrillTemplate Drill(int count) =>
        Catalogue.Templates[0] with
        {
            Entry = new DrillEntry(360, 5000, 90),
            Segments = [.. Enumerable.Range(0, count).Select(Segment)],
            Checks = [.. Enumerable.Range(0, count / 6).Select(i => new Check("Flow", CheckKind.Flow, ["Fuel", "Engine"], 60 * i, 10))],
            LoadTasks = [.. Enumerable.Range(0, count / 6).Select(i => new LoadTask("Sum", "What is 2 and 2?", (60 * i) + 30, "4"))],
        };

    private static Segment Segment(int i) =>
        (i % 4) switch
        {
            0 => new Segment { Name = $"leg {i}", DurationS = 10 + (i % 7) },
            1 => new Segment { Name = $"right {i}", TurnDeg = 90 },
            2 => new Segment { Name = $"climb {i}", ClimbFt = i % 8 == 2 ? 100 : -100 },
            _ => new Segment { Name = $"left {i}", TurnDeg = -45 },
        };

    private static DrillTemplate Named(DrillTemplate drill, int at, string name) =>
        SegmentEdits.Replace(drill, SegmentPath.Of("segments", at), drill.Segments[at] with { Name = name }).Template;

    private static List<double> Measure(Action<int> work)
    {
        work(0);
        var times = new List<double>(Times);
        for (var i = 0; i < Times; i++)
        {
            var watch = Stopwatch.StartNew();
            work(i);
            times.Add(watch.Elapsed.TotalMilliseconds);
        }

        times.Sort();
        return times;
    }

    private static double Share(List<double> times, double share) => times[(int)(share * (times.Count - 1))];
}
