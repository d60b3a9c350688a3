using SchoolDrills.Engine.Drills;
using Xunit;

namespace SchoolDrills.Engine.Tests.Drills;

/// <summary>What holds for every timeline, whatever the drill.</summary>
internal static class Timelines
{
    public static void AssertConsistent(DrillTimeline timeline)
    {
        Assert.Equal(0, timeline.Segments[0].StartS);
        Assert.Equal(timeline.DurationS, timeline.Segments[^1].EndS);
        for (var i = 0; i < timeline.Segments.Count; i++)
        {
            var segment = timeline.Segments[i];
            Assert.Equal(i, segment.Index);
            Assert.True(segment.DurationS > 0);
            Assert.InRange(segment.EndHeadingMagDeg, double.Epsilon, 360);
            // The targets reach the end exactly when the segment ends.
            Assert.Equal(segment.TurnDeg, segment.TurnedDegAt(segment.DurationS), 1e-6);
            Assert.Equal(segment.EndAltitudeFt, segment.AltitudeFtAt(segment.DurationS), 1e-6);
            Assert.Equal(segment.AirspeedKt, segment.AirspeedKtAt(segment.DurationS), 1e-6);
            Assert.Equal(0, Math.IEEERemainder(segment.StartHeadingMagDeg + segment.TurnDeg - segment.EndHeadingMagDeg, 360), 1e-5);
            if (i == 0)
                continue;
            var before = timeline.Segments[i - 1];
            Assert.Equal(
                (before.EndS, before.EndHeadingMagDeg, before.EndAltitudeFt, before.AirspeedKt),
                (segment.StartS, segment.StartHeadingMagDeg, segment.StartAltitudeFt, segment.StartAirspeedKt)
            );
        }

        Assert.Equal(timeline.Gates.OrderBy(g => g.AtS), timeline.Gates);
        Assert.Equal(timeline.Cues.OrderBy(c => c.AtS), timeline.Cues);
        Assert.Equal(timeline.DurationS, timeline.Gates[^1].AtS);
        Assert.Equal(timeline.Segments.Count + 1, timeline.Cues.Count);
        Assert.All(timeline.Checks, c => Assert.True(c.FromS >= 0 && c.FromS < c.ToS && c.ToS <= timeline.DurationS + 1e-6));
        Assert.All(
            timeline.Checks,
            c => Assert.InRange(c.FromS, timeline.Segments[c.SegmentIndex].StartS, timeline.Segments[c.SegmentIndex].EndS)
        );
        Assert.All(
            timeline.LoadTasks,
            t => Assert.InRange(t.AtS, timeline.Segments[t.SegmentIndex].StartS, timeline.Segments[t.SegmentIndex].EndS)
        );
    }

    public static DrillTemplate Drill(params Segment[] segments) =>
        new()
        {
            Slug = "test",
            Title = "Test",
            Purpose = "To test.",
            StandardSlug = "instrument-rating",
            Entry = new DrillEntry(360, 3000, 90),
            Segments = segments,
        };
}
