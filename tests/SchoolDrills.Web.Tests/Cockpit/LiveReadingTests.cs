extern alias cockpit;

using cockpit::SchoolDrills.Cockpit.Flying;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Web.Tests.Cockpit;

public class LiveReadingTests
{
    [Fact]
    public void Flown_as_planned_nothing_is_off_wherever_the_satellites_height_begins()
    {
        var timeline = CallTests.Timeline("box-circles");
        var live = new LiveReading();
        for (var s = 0; s <= timeline.DurationS; s++)
            live.Add(Planned(timeline, s, heightM: 47, late: 0), timeline, s);
        Assert.InRange(live.HeightFt!.Value, -1, 1);
        Assert.InRange(live.TrackDeg!.Value, -0.5, 0.5);
    }

    [Fact]
    public void A_turn_begun_four_seconds_late_is_four_seconds_behind_the_clock()
    {
        var timeline = CallTests.Timeline("box-circles");
        var turn = timeline.Segments.First(s => s.TurnDeg != 0);
        var live = new LiveReading();
        var midS = (int)(turn.StartS + (turn.DurationS / 2));
        for (var s = 0; s <= midS; s++)
            live.Add(Planned(timeline, s, heightM: 0, late: 4), timeline, s);
        Assert.InRange(live.BehindS!.Value, 3.9, 4.1);
    }

    [Fact]
    public void A_position_given_twice_counts_once_and_without_a_height_none_is_told()
    {
        var timeline = CallTests.Timeline("box-circles");
        var live = new LiveReading();
        var position = Planned(timeline, 0, 0, 0) with { AltM = null };
        live.Add(position, timeline, 0);
        live.Add(position, timeline, 0);
        Assert.Null(live.HeightFt);
        Assert.Equal(0, live.TrackDeg);
    }

    private static DevicePosition Planned(DrillTimeline timeline, int atS, double heightM, int late)
    {
        var flownS = Math.Max(0, atS - late);
        var segment = timeline.Segments.Last(s => s.StartS <= flownS);
        var into = Math.Min(flownS, segment.EndS) - segment.StartS;
        var course = segment.StartHeadingMagDeg + segment.TurnedDegAt(into);
        var altitudeM = (segment.AltitudeFtAt(into) * 0.3048) + heightM;
        return new DevicePosition(1 + (atS * 1000), 0, 0, altitudeM, 46, ((course % 360) + 360) % 360, 5);
    }
}
