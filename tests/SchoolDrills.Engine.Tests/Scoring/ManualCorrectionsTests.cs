using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tests.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>What an instructor sets by hand, over recordings scored without him.</summary>
public sealed class ManualCorrectionsTests
{
    private static readonly ToleranceStandard Standard = Catalogue.Standards.Single(s => s.Slug == "instrument-rating");

    [Fact]
    public void A_start_set_by_hand_ends_the_segment_before_and_leaves_the_others()
    {
        var own = Score("f13.csv", "timed-turns");
        var later = own.Segments[2].StartUtc!.Value.AddSeconds(7);
        var corrections = new ManualCorrections([new ManualBoundary(2, StartUtc: later)]);
        var corrected = Score("f13.csv", "timed-turns", corrections);

        Assert.Null(CorrectionCheck.Problem(corrections, own));
        Assert.Same(corrections, corrected.Corrections);
        Assert.Null(own.Corrections);
        Assert.Equal(later, corrected.Segments[2].StartUtc!.Value, TimeSpan.FromMilliseconds(1));
        Assert.Equal(later, corrected.Segments[1].EndUtc!.Value, TimeSpan.FromMilliseconds(1));
        Assert.Equal(own.Segments[2].StartErrorS!.Value + 7, corrected.Segments[2].StartErrorS!.Value, 0.11);
        foreach (var k in new[] { 0, 3, 4, 5, 6 })
            Assert.Equal(own.Segments[k].StartUtc, corrected.Segments[k].StartUtc);
    }

    [Fact]
    public void A_skipped_segment_is_flown_once_both_its_times_are_given()
    {
        var own = Score("f10.csv", "vertical-s-turning");
        var skipped = own with
        {
            Segments =
            [
                .. own.Segments.Select(s => s.Index == 3 ? s with { Status = SegmentStatus.Skipped, StartUtc = null, EndUtc = null } : s),
            ],
        };
        var start = own.Segments[3].StartUtc!.Value;
        Assert.Contains(
            "both its start and its end",
            CorrectionCheck.Problem(new ManualCorrections([new ManualBoundary(3, StartUtc: start)]), skipped)!,
            StringComparison.Ordinal
        );
        Assert.Null(CorrectionCheck.Problem(new ManualCorrections([new ManualBoundary(3, start, own.Segments[3].EndUtc)]), skipped));
    }

    [Fact]
    public void The_clock_starts_where_the_drill_is_set_to_start()
    {
        var own = Score("f13.csv", "timed-turns");
        var corrected = Score(
            "f13.csv",
            "timed-turns",
            new ManualCorrections([new ManualBoundary(0, StartUtc: own.StartUtc!.Value.AddSeconds(4))])
        );
        Assert.Equal(0, corrected.Segments[0].StartErrorS);
        Assert.Equal(own.Segments[1].StartUtc, corrected.Segments[1].StartUtc);
        Assert.Equal(
            (corrected.Segments[1].StartUtc!.Value - corrected.StartUtc!.Value).TotalSeconds,
            60 + corrected.Segments[1].StartErrorS!.Value,
            0.1
        );
    }

    /// <summary>Truth of f12: airspeed let go to 71.5 kt in the first straight.</summary>
    [Fact]
    public void What_is_left_out_counts_neither_in_nor_out()
    {
        var own = Score("f12.csv", "racetrack");
        var bad = own.Findings.Single(f => f is { Kind: FindingKind.AirspeedDrift, SegmentIndex: 0 });
        var corrections = new ManualCorrections(
            Excluded: [new ExcludedStretch(own.Segments[0].StartUtc!.Value, own.Segments[0].EndUtc!.Value, "Traffic avoided.")]
        );
        var corrected = Score("f12.csv", "racetrack", corrections);

        Assert.Null(CorrectionCheck.Problem(corrections, own));
        Assert.DoesNotContain(corrected.Findings, f => f.Kind == bad.Kind && f.SegmentIndex == 0);
        Assert.True(corrected.Overall.WithinShare > own.Overall.WithinShare);
        Assert.Equal(Verdict.NotMeasured, corrected.Segments[0].Deviations.Single(d => d.Parameter == Parameter.Airspeed).Verdict);
        Assert.Equal(Verdict.NotMeasured, corrected.Segments[1].Deviations.Single(d => d.Parameter == Parameter.Timing).Verdict);
        Assert.DoesNotContain(corrected.Saturation, s => s.StartUtc < own.Segments[0].EndUtc);
        Assert.Equal(own.Segments[3].Deviations.Select(d => d.WithinShare), corrected.Segments[3].Deviations.Select(d => d.WithinShare));
    }

    [Fact]
    public void A_segment_left_out_whole_is_not_measured()
    {
        var own = Score("f13.csv", "timed-turns");
        var corrected = Score(
            "f13.csv",
            "timed-turns",
            new ManualCorrections(
                Excluded:
                [
                    new ExcludedStretch(
                        own.Segments[2].StartUtc!.Value.AddSeconds(-1),
                        own.Segments[2].EndUtc!.Value.AddSeconds(1),
                        "Traffic avoided."
                    ),
                ]
            )
        );
        Assert.Equal(Verdict.NotMeasured, corrected.Segments[2].Verdict);
        Assert.Equal(Verdict.Met, corrected.Overall.Verdict);
    }

    public static TheoryData<ManualCorrections, string> Impossible()
    {
        static DateTimeOffset At(string time) =>
            DateTimeOffset.Parse($"2026-01-17T{time}Z", System.Globalization.CultureInfo.InvariantCulture);
        return new()
        {
            { new ManualCorrections([new ManualBoundary(7, At("17:32:00"))]), "There is no segment 7" },
            { new ManualCorrections([new ManualBoundary(-1, At("17:32:00"))]), "There is no segment -1" },
            { new ManualCorrections([new ManualBoundary(2, At("17:29:00"))]), "outside the recording" },
            { new ManualCorrections([new ManualBoundary(2, At("17:30:50"))]), "must end after it starts" },
            { new ManualCorrections([new ManualBoundary(2, At("17:31:40"), At("17:31:20"))]), "must end after it starts" },
            { new ManualCorrections([new ManualBoundary(2, At("17:31:35")), new ManualBoundary(1, EndUtc: At("17:31:40"))]), "before" },
            { new ManualCorrections([new ManualBoundary(2, At("17:31:35")), new ManualBoundary(2, At("17:31:36"))]), "given twice" },
            {
                new ManualCorrections(Excluded: [new ExcludedStretch(At("17:32:00"), At("17:31:00"), "Traffic avoided.")]),
                "must end after it starts"
            },
            {
                new ManualCorrections(Excluded: [new ExcludedStretch(At("16:32:00"), At("16:33:00"), "Traffic avoided.")]),
                "outside the recording"
            },
            { new ManualCorrections(Run: 3), "Run 3 is not in this recording" },
        };
    }

    /// <summary>Truth of f13: segments start at 17:30:03, 17:31:04, 17:31:34, 17:32:04, 17:33:05, 17:33:34 and 17:35:32.</summary>
    [Theory]
    [MemberData(nameof(Impossible), DisableDiscoveryEnumeration = true)]
    public void What_cannot_be_true_is_refused_with_a_sentence_and_beforehand_alike(ManualCorrections corrections, string says)
    {
        var refused = Assert.Throws<CorrectionRefusedException>(() => Score("f13.csv", "timed-turns", corrections));
        Assert.Contains(says, refused.Message, StringComparison.Ordinal);
        Assert.EndsWith(".", refused.Message, StringComparison.Ordinal);
        Assert.Equal(refused.Message, CorrectionCheck.Problem(corrections, Score("f13.csv", "timed-turns")));
    }

    private static ScoreReport Score(string file, string drill, ManualCorrections? corrections = null) =>
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
