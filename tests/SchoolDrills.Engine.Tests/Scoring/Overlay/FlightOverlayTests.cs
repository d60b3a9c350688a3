using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring.Overlay;

/// <summary>Two attempts laid over each other. Expected values are worked out by hand from the two small flights below.</summary>
public sealed class FlightOverlayTests
{
    private static readonly DrillEntry North = new(360, 4000, 100);

    [Fact]
    public void Each_segment_begins_together_and_takes_the_longer_of_the_two()
    {
        // The first was held 70 s instead of 60, so the second began 10 s late: it is laid over the other's all the same.
        var overlay = FlightOverlay.Of(
            new FlownPlot(North, [Segment(0, 70), Segment(1, 60)]),
            new FlownPlot(North, [Segment(0, 60), Segment(1, 65)])
        );
        Assert.Equal([(0, 70), (70, 65)], overlay.Segments.Select(s => (s.StartS, s.LengthS)));
        Assert.All(overlay.Segments, s => Assert.Equal((0.0, 0.0), (s.This!.TimeS[0], s.Other!.TimeS[0])));
    }

    [Fact]
    public void A_segment_that_one_attempt_did_not_fly_keeps_its_place()
    {
        var overlay = FlightOverlay.Of(
            new FlownPlot(North, [Segment(0, 60), Segment(2, 60)]),
            new FlownPlot(North, [Segment(1, 30), Segment(2, 60)])
        );
        Assert.Equal([0, 1, 2], overlay.Segments.Select(s => s.Index));
        Assert.Equal([0, 60, 90], overlay.Segments.Select(s => s.StartS));
        Assert.Equal([true, false, true], overlay.Segments.Select(s => s.This is not null));
        Assert.Equal([false, true, true], overlay.Segments.Select(s => s.Other is not null));
    }

    [Fact]
    public void The_other_is_turned_raised_and_made_as_fast_as_this_ones_entry_asks()
    {
        // Flown east at 3000 ft and 90 kt, a mile ahead of the start and 100 m right of the line; laid over a flight to the north.
        var other = new FlownPlot(new DrillEntry(90, 3000, 90), [Segment(0, 60, 95, 3020, 88, eastM: 1852, northM: -100)]);
        var overlay = FlightOverlay.Of(new FlownPlot(North, [Segment(0, 60)]), other);
        var moved = overlay.Segments[0].Other!;
        Assert.Equal((5.0, 4020.0, 98.0), (moved.HeadingMagDeg[1], moved.AltitudeFt[1], moved.AirspeedKt[1]));
        Assert.Equal((100, 1852), (moved.EastM[1], moved.NorthM[1]));
        Assert.Equal(new EntryShift(-90, 1000, 10, false), overlay.Shift with { HeadingDeg = Math.Round(overlay.Shift.HeadingDeg, 9) });
    }

    [Fact]
    public void A_mirrored_attempt_is_mirrored_back()
    {
        var other = new FlownPlot(North with { Mirrored = true }, [Segment(0, 60, 350, eastM: -300, northM: 500)]);
        var moved = FlightOverlay.Of(new FlownPlot(North, [Segment(0, 60)]), other).Segments[0].Other!;
        Assert.Equal(10, moved.HeadingMagDeg[1]!.Value, 9);
        Assert.Equal((300, 500), (moved.EastM[1], moved.NorthM[1]));
    }

    [Fact]
    public void What_was_not_measured_stays_unknown()
    {
        var silent = Segment(0, 60) with { AirspeedKt = [null, null] };
        var moved = FlightOverlay.Of(new FlownPlot(North, [Segment(0, 60)]), new FlownPlot(North with { AirspeedKt = 90 }, [silent]));
        Assert.All(moved.Segments[0].Other!.AirspeedKt, Assert.Null);
    }

    [Fact]
    public void A_scored_flight_is_cut_at_its_flown_starts_and_tells_neither_day_nor_place()
    {
        var scored = Scored.Attempt("f01.gpx", "box-circles");
        var plot = FlownPlot.Of(scored.Report, scored.Columns)!;
        var flown = scored.Report.Segments.Where(s => s.StartUtc is not null).ToList();
        Assert.Equal(flown.Select(s => s.Index), plot.Segments.Select(s => s.Index));
        Assert.All(
            flown.Zip(plot.Segments),
            p => Assert.Equal((p.First.EndUtc - p.First.StartUtc)!.Value.TotalSeconds, p.Second.DurationS, 6)
        );
        Assert.All(plot.Segments, s => Assert.InRange(s.TimeS[^1], 0, s.DurationS + 0.01));
        Assert.Equal((0, 0), (plot.Segments[0].EastM[0], plot.Segments[0].NorthM[0]));
    }

    [Fact]
    public void A_recording_without_the_drill_gives_no_plot()
    {
        var scored = Scored.Attempt("f01.gpx", "box-circles");
        Assert.Null(FlownPlot.Of(scored.Report with { Found = false }, scored.Columns));
    }

    private static SegmentTrace Segment(
        int index,
        double durationS,
        double headingMagDeg = 360,
        double altitudeFt = 4000,
        double airspeedKt = 100,
        double eastM = 0,
        double northM = 1000
    ) =>
        new()
        {
            Index = index,
            Name = $"Leg {index + 1}",
            Kind = SegmentKind.LevelStraight,
            DurationS = durationS,
            TimeS = [0, durationS],
            EastM = [0, eastM],
            NorthM = [0, northM],
            AltitudeFt = [altitudeFt, altitudeFt],
            HeadingMagDeg = [headingMagDeg, headingMagDeg],
            AirspeedKt = [airspeedKt, airspeedKt],
            AltitudeTargetFt = [4000, 4000],
            HeadingTargetMagDeg = [360, 360],
            AirspeedTargetKt = [100, 100],
        };
}
