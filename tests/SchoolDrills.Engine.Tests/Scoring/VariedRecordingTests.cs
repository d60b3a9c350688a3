using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tests.Tracks;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>What holds for a recording must hold for the same flight recorded otherwise, on another day or to another side.</summary>
public sealed class VariedRecordingTests
{
    private static readonly (string File, string Drill)[] Flown =
    [
        ("f01.gpx", "box-circles"),
        ("f10.csv", "vertical-s-turning"),
        ("f12.csv", "racetrack"),
        ("f13.csv", "timed-turns"),
    ];

    private static readonly Dictionary<string, Func<Track, Track>> Variants = new()
    {
        ["every two seconds"] = t => t.Every(2),
        ["every five seconds"] = t => t.Every(5),
        ["twice a second"] = t => t.Doubled(),
        ["with three metres more noise"] = t => t.Noisier(1, 3, 10),
        ["as a rough phone writes it"] = t => t.Noisier(1, 5, 20),
        ["with seconds missing"] = t => t.WithDropouts(1),
        ["turned by 77 degrees"] = t => t.Turned(77),
        ["an hour later"] = t => t.Later(3600),
    };

    public static TheoryData<string, string, string> Varied() =>
        [.. Flown.SelectMany(f => Variants.Keys.Select(v => (f.File, f.Drill, v)))];

    [Theory]
    [MemberData(nameof(Varied))]
    public void A_flight_recorded_otherwise_is_found_with_the_same_segments(string file, string drill, string variant)
    {
        var track = Recording.ReadFile(file).Track!;
        var (own, varied) = (Scored.Report(track, drill), Scored.Report(Variants[variant](track), drill));
        Assert.True(varied.Found);
        var lateS = variant == "an hour later" ? 3600 : 0;
        var off = own
            .Segments.Skip(1)
            .Zip(varied.Segments.Skip(1), (a, b) => Math.Abs((b.StartUtc!.Value - a.StartUtc!.Value).TotalSeconds - lateS))
            .Order()
            .ToArray();
        Assert.True(off[off.Length / 2] <= 1.5, $"Half of the segments begin more than {off[off.Length / 2]:0.0} s elsewhere.");
        Assert.True(off[(int)(off.Length * 0.8)] <= 7, $"One in five begins more than {off[(int)(off.Length * 0.8)]:0.0} s elsewhere.");
    }

    public static TheoryData<string, string> OtherDrills() =>
        [.. Flown.SelectMany(f => Flown.Where(o => o.Drill != f.Drill).Select(o => (f.File, o.Drill)))];

    [Theory]
    [MemberData(nameof(OtherDrills))]
    public void A_flight_of_one_drill_is_refused_for_every_other(string file, string drill)
    {
        var report = Scored.Report(file, drill);
        Assert.False(report.Found);
        Assert.True(report.Confidence < 0.62, $"Confidence {report.Confidence}");
    }

    [Theory]
    [MemberData(nameof(OtherDrills))]
    public void A_rough_recording_of_one_drill_is_refused_for_every_other(string file, string drill)
    {
        var track = Recording.ReadFile(file).Track!;
        Assert.False(Scored.Report(track.Noisier(2, 5, 20), drill).Found);
        Assert.False(Scored.Report(track.WithDropouts(2), drill).Found);
    }

    [Theory]
    [InlineData("f01.gpx", "box-circles")]
    [InlineData("f13.gpx", "timed-turns")]
    public void A_drill_flown_to_the_other_hand_is_found_and_said_and_not_met(string file, string drill)
    {
        var track = Recording.ReadFile(file).Track!;
        var (own, other) = (Scored.Report(track, drill), Scored.Report(track.MirroredPath(), drill));
        Assert.True(other.Found);
        Assert.True(Assert.Single(other.Runs).Mirrored);
        Assert.True(other.Entry!.Mirrored);
        Assert.Equal(FindingKind.WrongDirection, other.Findings[0].Kind);
        Assert.Null(other.Findings[0].SegmentIndex);
        Assert.Equal(Verdict.NotMet, other.Overall.Verdict);
        Assert.All(own.Segments.Zip(other.Segments), s => Assert.Equal(s.First.TurnDeg, -s.Second.TurnDeg));

        var asked = Scored.Report(track.MirroredPath(), drill, new ScoringOptions { Mirrored = true });
        Assert.False(Assert.Single(asked.Runs).Mirrored);
        Assert.DoesNotContain(asked.Findings, f => f.SegmentIndex is null);
    }

    [Fact]
    public void Two_flights_of_a_drill_in_one_recording_are_both_found_and_either_can_be_scored()
    {
        var once = Recording.ReadFile("f13.gpx").Track!;
        var twice = once.Then(once, 90);
        var (own, first, second) = (
            Scored.Report(once, "timed-turns"),
            Scored.Report(twice, "timed-turns", new ScoringOptions { Corrections = new ManualCorrections(Run: 0) }),
            Scored.Report(twice, "timed-turns", new ScoringOptions { Corrections = new ManualCorrections(Run: 1) })
        );
        Assert.Equal(2, first.Runs.Count);
        Assert.Equal([true, false], first.Runs.Select(r => r.Scored));
        Assert.Equal([false, true], second.Runs.Select(r => r.Scored));
        var shift = TimeSpan.FromSeconds(once.TimeS[^1] - once.TimeS[0] + 90);
        Assert.All(
            own.Segments.Skip(1).Zip(first.Segments.Skip(1)),
            s => Assert.Equal(s.First.StartUtc!.Value, s.Second.StartUtc!.Value, TimeSpan.FromSeconds(1.5))
        );
        Assert.All(
            own.Segments.Skip(1).Zip(second.Segments.Skip(1)),
            s => Assert.Equal(s.First.StartUtc!.Value + shift, s.Second.StartUtc!.Value, TimeSpan.FromSeconds(1.5))
        );
    }

    /// <summary>Truth of f13: segments start at 17:30:03, 17:31:04, 17:31:34, 17:32:04, 17:33:05, 17:33:34 and 17:35:32.</summary>
    [Fact]
    public void What_the_recording_no_longer_shows_is_neither_skipped_nor_given_up()
    {
        var track = Recording.ReadFile("f13.csv").Track!;
        var whole = Scored.Report(track, "timed-turns");
        var cut = Scored.Report(track.Between(track.TimeS[0], track.TimeS[0] + 270), "timed-turns");
        Assert.True(cut.Found);
        Assert.Equal(SegmentStatus.Partial, cut.Segments[5].Status);
        Assert.Equal(SegmentStatus.Skipped, cut.Segments[6].Status);
        Assert.Equal(Verdict.NotMeasured, cut.Segments[6].Verdict);
        Assert.DoesNotContain(cut.Findings, f => f.Kind is FindingKind.Aborted or FindingKind.SkippedSegment);
        Assert.Contains(cut.NotMeasured, n => n.Contains("ends inside the drill", StringComparison.Ordinal));
        Assert.Equal(whole.Segments[4].StartUtc!.Value, cut.Segments[4].StartUtc!.Value, TimeSpan.FromSeconds(0.6));
    }

    [Fact]
    public void What_the_recording_does_not_show_yet_is_not_skipped()
    {
        var track = Recording.ReadFile("f01.gpx").Track!;
        var whole = Scored.Report(track, "box-circles");
        var cut = Scored.Report(track.Between(track.TimeS[0] + 120, track.TimeS[^1]), "box-circles");
        Assert.True(cut.Found);
        Assert.Equal(SegmentStatus.Skipped, cut.Segments[0].Status);
        Assert.Equal(Verdict.NotMeasured, cut.Segments[0].Verdict);
        Assert.Equal(SegmentStatus.Partial, cut.Segments[1].Status);
        Assert.DoesNotContain(cut.Findings, f => f.Kind is FindingKind.Aborted or FindingKind.SkippedSegment);
        Assert.Equal(whole.Segments[6].StartErrorS!.Value, cut.Segments[6].StartErrorS!.Value, 1.5);
        Assert.Equal(Verdict.Met, cut.Segments[1].Deviations.Single(d => d.Parameter == Parameter.Altitude).Verdict);
    }

    [Fact]
    public void When_a_turn_began_that_began_unrecorded_is_not_judged()
    {
        var track = Recording.ReadFile("f13.gpx").Track!;
        var whole = Scored.Report(track, "timed-turns");
        var startS = (whole.Segments[3].StartUtc!.Value - track.EpochUtc).TotalSeconds;
        var holed = Scored.Report(track.Without(startS - 14, startS + 14), "timed-turns");
        Assert.True(holed.Found);
        var timing = holed.Segments[3].Deviations.Single(d => d.Parameter == Parameter.Timing);
        Assert.Equal(Verdict.NotMeasured, timing.Verdict);
        Assert.Contains("nothing was recorded", timing.Why, StringComparison.Ordinal);
        Assert.DoesNotContain(holed.Findings, f => f is { SegmentIndex: 3, Kind: FindingKind.LateStart or FindingKind.EarlyStart });
        Assert.NotEqual(Verdict.NotMeasured, holed.Segments[5].Deviations.Single(d => d.Parameter == Parameter.Timing).Verdict);
    }

    [Fact]
    public void The_work_of_finding_a_drill_grows_with_the_recording_and_no_faster()
    {
        var once = Recording.ReadFile("f13.gpx").Track!;
        long Looks(int times)
        {
            var track = Enumerable.Range(1, times - 1).Aggregate(once, (t, _) => t.Then(once, 1));
            var state = Reconstructor.Reconstruct(TrackCleaner.Clean(track)!, new KnownConditions(null, null, null));
            var grid = new AlignmentGrid(state, state.TimeS[0], state.TimeS[^1]);
            var drill = Scored.Drill("timed-turns");
            ReadingSearch.Best(grid, DrillTimeline.Resolve(drill, drill.Entry));
            return grid.LengthsTried;
        }

        var (two, twelve) = (Looks(2), Looks(12));
        Assert.True(twelve <= 1.3 * 6 * two, $"{two} looks for two flights, {twelve} for twelve.");
    }
}
