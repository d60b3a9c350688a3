using System.Globalization;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Benchmarks;

/// <summary>From bytes to report, stage by stage, compared with a bare pass over the bytes and a textbook alignment.</summary>
internal static class PipelineBenchmarks
{
    private static readonly DrillTemplate Template = Catalogue.Templates.Single(t => t.Slug == LongFlight.Drill);
    private static readonly ToleranceStandard Standard = Catalogue.Standards.Single(s => s.Slug == "instrument-rating");
    private static readonly KnownConditions Unknown = new(null, null, null);

    public static void Run()
    {
        Console.WriteLine("| recording | bytes to report ms | bare pass ms | ratio | found | allocated bytes a sample |");
        Console.WriteLine("| --- | --- | --- | --- | --- | --- |");
        foreach (var (format, hertz) in new[] { ("gpx", 1), ("csv", 1), ("gpx", 10), ("csv", 10) })
        {
            var flight = LongFlight.Of(60, hertz);
            var bytes = Writer.Write(flight, format);
            var paired = Paired.Of(hertz == 1 ? 9 : 3, () => Score(bytes), () => BarePass.Over(format, bytes));
            Console.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"| {format}, 60 min, {hertz} Hz | {paired.OursMs:0.0} | {paired.TheirsMs:0.0} | "
                        + $"{paired.Ratio:0.0} | {(Score(bytes).Found ? "yes" : "no")} | "
                        + $"{(double)Paired.Allocated(() => Score(bytes)) / flight.Count:0} |"
                )
            );
        }

        foreach (var hertz in new[] { 1, 10 })
        {
            Console.WriteLine();
            Stages(hertz);
        }
    }

    public static ScoreReport Score(byte[] bytes) =>
        AttemptScorer.Score(ReaderBenchmarks.Read(bytes), Template, Standard, new ScoringOptions()).Report;

    private static void Stages(int hertz)
    {
        var rounds = hertz == 1 ? 15 : 5;
        var bytes = Writer.Write(LongFlight.Of(60, hertz), "gpx");
        var track = ReaderBenchmarks.Read(bytes);
        var report = Score(bytes);
        var (startS, endS) = ((report.StartUtc!.Value - track.EpochUtc).TotalSeconds, (report.EndUtc!.Value - track.EpochUtc).TotalSeconds);
        var state = Reconstructor.Reconstruct(TrackCleaner.Clean(track)!, Unknown);
        var timeline = DrillTimeline.Resolve(Template, Template.Entry);
        var timed = Enumerable.Range(0, rounds).Select(_ => StageTimesMs(track)).ToList();

        Console.WriteLine($"| stage, 60 min, {hertz} Hz | ms |");
        Console.WriteLine("| --- | --- |");
        Row("read", Paired.Of(rounds, () => ReaderBenchmarks.Read(bytes)));
        Row("clean", Stage(ScoringStage.Cleaning));
        Row("reconstruct", Stage(ScoringStage.Reconstructing));
        Row("align and refine", Stage(ScoringStage.Aligning));
        Row("of which the drill's own wind", Paired.Of(rounds, () => Reconstructor.Refine(state, Unknown, startS - 60, endS + 60)));
        Row("judge and report", Stage(ScoringStage.Judging));
        Row("for comparison: textbook warping of the same series, once", Paired.Of(3, () => TextbookWarping.Distance(state, timeline)));

        double Stage(ScoringStage stage) => Paired.Median(timed.Select(t => t[stage]));

        static void Row(string name, double ms) => Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {name} | {ms:0.0} |"));
    }

    /// <summary>Time of each stage that the scorer reports, milliseconds.</summary>
    private static Dictionary<ScoringStage, double> StageTimesMs(Track track)
    {
        var times = new Dictionary<ScoringStage, double>();
        (ScoringStage? Stage, TimeSpan Since) now = (null, TimeSpan.Zero);
        AttemptScorer.Score(track, Template, Standard, new ScoringOptions(), stage => Begin(stage));
        Begin(null);
        return times;

        void Begin(ScoringStage? next)
        {
            if (now.Stage is { } ended)
                times[ended] = (Environment.CpuUsage.TotalTime - now.Since).TotalMilliseconds;
            now = (next, Environment.CpuUsage.TotalTime);
        }
    }
}
