using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Benchmarks;

/// <summary>The whole way from bytes to report, stage by stage, beside the bare pass over the bytes and a textbook alignment.</summary>
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
            Console.WriteLine(FormattableString.Invariant(
                $"| {format}, 60 min, {hertz} Hz | {paired.OursMs:0.0} | {paired.TheirsMs:0.0} | {paired.Ratio:0.0} | {(Score(bytes).Found ? "yes" : "no")} | {(double)Paired.Allocated(() => Score(bytes)) / flight.Count:0} |"));
        }

        Console.WriteLine();
        Stages(1);
        Console.WriteLine();
        Stages(10);
    }

    public static ScoreReport Score(byte[] bytes) => AttemptScorer.Score(ReaderBenchmarks.Read(bytes), Template, Standard, new ScoringOptions()).Report;

    private static void Stages(int hertz)
    {
        var bytes = Writer.Write(LongFlight.Of(60, hertz), "gpx");
        var timeline = DrillTimeline.Resolve(Template, Template.Entry);
        var track = ReaderBenchmarks.Read(bytes);
        var clean = TrackCleaner.Clean(track)!;
        var whole = Reconstructor.Reconstruct(clean, Unknown);
        var rough = SegmentAligner.Align(whole, timeline) ?? throw new InvalidOperationException("The drill was not found.");
        var state = Reconstructor.Refine(whole, Unknown, rough.StartS - 60, rough.EndS + 60);
        (string Name, Action Do)[] stages =
        [
            ("read", () => ReaderBenchmarks.Read(bytes)),
            ("clean", () => TrackCleaner.Clean(track)),
            ("reconstruct", () => Reconstructor.Reconstruct(clean, Unknown)),
            ("align", () => SegmentAligner.Align(whole, timeline)),
            ("refine wind", () => Reconstructor.Refine(whole, Unknown, rough.StartS - 60, rough.EndS + 60)),
            ("refine boundaries", () => BoundaryRefiner.Refine(state, timeline, rough)),
            ("(textbook warping)", () => TextbookWarping.Distance(whole, timeline)),
        ];
        Console.WriteLine($"| stage, 60 min, {hertz} Hz | ms | allocated kB |");
        Console.WriteLine("| --- | --- | --- |");
        foreach (var (name, action) in stages)
        {
            Console.WriteLine(FormattableString.Invariant($"| {name} | {Paired.Of(hertz == 1 ? 7 : 3, action):0.0} | {Paired.Allocated(action) / 1e3:#,0} |"));
        }

        Console.WriteLine(FormattableString.Invariant($"| judge and report | {Paired.Median(Enumerable.Range(0, 5).Select(_ => JudgingMs(track))):0.0} | |"));
        var aligned = Paired.Of(3, () => SegmentAligner.Align(whole, timeline), () => TextbookWarping.Distance(whole, timeline));
        Console.WriteLine();
        Console.WriteLine(FormattableString.Invariant($"Align by textbook warping of the same series: {aligned.Ratio:0.00}"));
    }

    /// <summary>From the start of judging, as the scorer tells it, to the report and its plot columns.</summary>
    private static double JudgingMs(Track track)
    {
        var begun = TimeSpan.Zero;
        AttemptScorer.Score(track, Template, Standard, new ScoringOptions(), stage => begun = Environment.CpuUsage.TotalTime);
        return (Environment.CpuUsage.TotalTime - begun).TotalMilliseconds;
    }
}
