using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>How far the engine was off over flights flown by program, of which none was there when its constants were set.</summary>
internal static class FlownReport
{
    /// <summary>Scores the flights of some seeds, each from satellites alone and from air data.</summary>
    public static List<FlownResult> Score(int firstSeed, int count, ToleranceStandard standard, bool verbose = false) =>
        [.. Enumerable.Range(firstSeed, count).SelectMany(seed => Score(seed, standard, verbose))];

    /// <summary>Prints the report as Markdown.</summary>
    /// <returns>Exit code.</returns>
    public static int Print(int firstSeed, int count, ToleranceStandard standard, bool verbose)
    {
        var results = Score(firstSeed, count, standard, verbose);
        WriteTables(Console.Out, results);
        Console.WriteLine();
        foreach (var miss in results.SelectMany(r => r.Tally.Misses.Select(m => $"- {r.Format} {r.Drill} {m}")))
            Console.WriteLine(miss);
        Console.WriteLine();
        Console.WriteLine("Farthest off at their boundaries, p95:");
        foreach (
            var r in results.Where(r => r.Tally.BoundaryS.Count > 0).OrderByDescending(r => Tally.SizeAt(r.Tally.BoundaryS, 0.95)).Take(20)
        )
        {
            Console.WriteLine(
                $"- seed {r.Seed} {r.Format} {r.Drill}: {Tally.Quantile(r.Tally.BoundaryS, 0.95)} s; skill "
                    + $"{r.Skill:0.00}; {string.Join(", ", r.Tally.Purposes.Select(p => p.Kind))}"
            );
        }
        return 0;
    }

    /// <summary>Writes the tables by recording, drill, error on purpose and kind of finding, and the calibration, as Markdown.</summary>
    public static void WriteTables(TextWriter to, IReadOnlyList<FlownResult> results)
    {
        to.WriteLine();
        to.WriteLine(Recognition.Rule);
        Heading(to, "recording");
        foreach (var format in Recorder.Formats)
        {
            Row(to, format, [.. results.Where(r => r.Format == format)]);
            Row(to, $"{format}, drills flown to their end", [.. results.Where(r => r.Format == format && r.IsWhole)]);
        }

        Heading(to, "drill");
        foreach (var drill in results.GroupBy(r => r.Drill).OrderBy(g => g.Key, StringComparer.Ordinal))
        {
            foreach (var format in Recorder.Formats)
                Row(to, $"{drill.Key}, {format}", [.. drill.Where(r => r.Format == format)]);
        }

        to.WriteLine();
        to.WriteLine("| error on purpose | gpx reported | csv reported |");
        to.WriteLine("| --- | --- | --- |");
        foreach (
            var kind in results.SelectMany(r => r.Tally.Purposes).GroupBy(p => p.Kind).Select(g => g.Key).Order(StringComparer.Ordinal)
        )
        {
            to.WriteLine($"| {kind} | {Reported("gpx", kind)} | {Reported("csv", kind)} |");
        }

        to.WriteLine();
        to.WriteLine(
            "Not counted: errors that a debriefing could not hold against the pilot, which are starts after the straight that opens a "
                + "drill, unless a running clock shows in two other straights, and drifts below twice the tolerance that were promptly "
                + $"corrected. Counted with them, {WithSlight("gpx")} (gpx) and {WithSlight("csv")} (csv) errors are reported."
        );
        to.WriteLine();
        to.WriteLine("| finding | gpx confirmed | csv confirmed |");
        to.WriteLine("| --- | --- | --- |");
        foreach (var kind in Enum.GetValues<FindingKind>())
            to.WriteLine($"| {kind} | {Confirmed("gpx", kind)} | {Confirmed("csv", kind)} |");

        Calibration.WriteSigmas(to, results);
        Calibration.WriteConfidence(to, results);
        Calibration.WriteProbabilities(to, results);

        string Reported(string format, string kind) =>
            Share([
                .. results
                    .Where(r => r.Format == format)
                    .SelectMany(r => r.Tally.Purposes)
                    .Where(p => p.Kind == kind)
                    .Select(p => p.Reported),
            ]);
        string WithSlight(string format) =>
            Share([
                .. results.Where(r => r.Format == format).SelectMany(r => r.Tally.Purposes.Concat(r.Tally.Slight)).Select(p => p.Reported),
            ]);
        string Confirmed(string format, FindingKind kind) =>
            Share([
                .. results
                    .Where(r => r.Format == format)
                    .SelectMany(r => r.Tally.Findings)
                    .Where(p => p.Kind == kind)
                    .Select(p => p.Confirmed),
            ]);
    }

    /// <summary>What is counted over several flights.</summary>
    public static Tally Sum(IEnumerable<FlownResult> results)
    {
        var sum = new Tally();
        foreach (var result in results)
            sum.Absorb(result.Tally);
        return sum;
    }

    private static IEnumerable<FlownResult> Score(int seed, ToleranceStandard standard, bool verbose)
    {
        var flight = FlownFlight.Fly(seed);
        var truth = FlownTruth.Of(flight);
        foreach (var track in Recorder.Both(flight))
        {
            if (verbose)
            {
                Console.WriteLine(
                    $"seed {seed} {track.Format}: {flight.Template?.Slug ?? "none"} in a {flight.Type.Name}, skill {flight.Skill:0.00}, "
                        + $"turbulence {flight.Day.Turbulence}, {string.Join(", ", flight.Mistakes)}, {flight.Incidents}"
                );
            }

            var templates = flight.Template is { } asked ? [asked] : Catalogue.Templates;
            var tally = new Tally();
            Totals.Compare(truth, track, tally, templates, standard, verbose);
            var isWhole = flight.Template is not null && !flight.Mistakes.Any(m => m.Kind is "abort" or "skipped_segment");
            yield return new FlownResult(seed, track.Format, flight.Template?.Slug ?? "none", flight.Skill, isWhole, tally);
        }
    }

    private static void Heading(TextWriter to, string by)
    {
        to.WriteLine();
        to.WriteLine(
            $"| {by} | found | of recognizable | refused | boundary s, median / p95 | wind kt, median / p95 | share agreement | "
                + $"verdicts as in truth | kappa | not judged | errors reported | findings confirmed | saturation |"
        );
        to.WriteLine("| --- |" + string.Concat(Enumerable.Repeat(" --- |", 12)));
    }

    private static void Row(TextWriter to, string name, IReadOnlyList<FlownResult> results)
    {
        var t = Sum(results);
        var (judged, agreed, abstained, kappa) = t.Verdicts.Of(Verdicts.Deciding);
        var wind = t.Errors.TryGetValue(StateComparison.Wind, out var errors) ? errors.ConvertAll(e => e.Error) : [];
        to.WriteLine(
            $"| {name} | {t.Found}/{t.Flights} | {t.RecognizableFound}/{t.Recognizable} | {t.Refused}/{t.Empty} | "
                + $"{Tally.Quantile(t.BoundaryS, 0.5)} / "
                + $"{Tally.Quantile(t.BoundaryS, 0.95)} | {Tally.Quantile(wind, 0.5)} / {Tally.Quantile(wind, 0.95)} "
                + $"| {Percent(t.Agreed, t.Shares - t.Abstained)} | {Percent(agreed, judged)} of {judged} | "
                + $"{kappa:0.00} | {abstained} | {t.Reported}/{t.Labelled} | "
                + $"{t.Confirmed}/{t.FindingsCount} | {t.EpisodesFound}/{t.Episodes} |"
        );
    }

    private static string Percent(int part, int whole) => whole == 0 ? "-" : $"{100.0 * part / whole:0.0} %";

    private static string Share(IReadOnlyCollection<bool> of) => $"{of.Count(yes => yes)}/{of.Count}";
}

/// <summary>One flown flight, scored from one kind of recording.</summary>
/// <param name="IsWhole">With a drill in it that was neither given up nor flown with a segment left out.</param>
internal sealed record FlownResult(int Seed, string Format, string Drill, double Skill, bool IsWhole, Tally Tally);
