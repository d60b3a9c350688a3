using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tests.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>Whatever stretch is left out, the rest is judged as before: nothing is made up, nothing unmeasured is called met.</summary>
public sealed class LeftOutStretchTests
{
    private static readonly ToleranceStandard Standard = Catalogue.Standards.Single(s => s.Slug == "instrument-rating");

    [Theory]
    [InlineData("f01.gpx", "box-circles")]
    [InlineData("f12.csv", "racetrack")]
    [InlineData("f13.csv", "timed-turns")]
    public void A_stretch_left_out_makes_up_no_failure(string file, string drill)
    {
        var own = Score(file, drill, null);
        List<string> madeUp = [];
        foreach (var segment in own.Segments.Where(s => s.StartUtc is not null && s.EndUtc is not null))
        {
            var (start, length) = (segment.StartUtc!.Value, segment.EndUtc!.Value - segment.StartUtc!.Value);
            foreach (var (from, to) in new[] { (0.0, 0.4), (0.3, 0.7), (0.55, 1.0), (0.9, 1.15) })
            {
                var left = new ExcludedStretch(start + (length * from), start + (length * to), "Traffic avoided.");
                var corrected = Score(file, drill, new ManualCorrections(Excluded: [left]));
                madeUp.AddRange(
                    corrected
                        .Findings.Where(f => !own.Findings.Any(o => o.Kind == f.Kind && o.SegmentIndex == f.SegmentIndex))
                        .Select(f => $"{segment.Index} {from}-{to}: {f.Kind} in {f.SegmentIndex}: {f.Text}")
                );
                madeUp.AddRange(
                    corrected
                        .Segments.Zip(own.Segments)
                        .Where(pair => pair.First.Verdict > pair.Second.Verdict && pair.First.Verdict != Verdict.NotMeasured)
                        .Select(pair =>
                            $"{segment.Index} {from}-{to}: segment {pair.First.Index} {pair.Second.Verdict} to {pair.First.Verdict}"
                        )
                );
            }
        }

        Assert.Empty(madeUp);
    }

    [Fact]
    public void A_segment_of_which_nothing_is_left_is_not_called_met()
    {
        var own = Score("f13.csv", "timed-turns", null);
        var everything = new ExcludedStretch(own.StartUtc!.Value.AddSeconds(-5), own.EndUtc!.Value.AddSeconds(5), "Another flight.");
        var corrected = Score("f13.csv", "timed-turns", new ManualCorrections(Excluded: [everything]));
        Assert.All(corrected.Segments, s => Assert.Equal(Verdict.NotMeasured, s.Verdict));
        Assert.Equal(Verdict.NotMeasured, corrected.Overall.Verdict);
    }

    private static ScoreReport Score(string file, string drill, ManualCorrections? corrections) =>
        AttemptScorer
            .Score(
                Recording.ReadFile(file).Track!,
                Catalogue.Templates.Single(t => t.Slug == drill),
                Standard,
                new ScoringOptions { Corrections = corrections },
                cancellation: TestContext.Current.CancellationToken
            )
            .Report;
}
