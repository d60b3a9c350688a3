using SchoolDrills.Engine.Drills;
using Xunit;

namespace SchoolDrills.Engine.Tests.Drills;

/// <summary>Expected instruments by the FAA Instrument Flying Handbook, FAA-H-8083-15B, chapter 7, section I.</summary>
public class ScanFocusTests
{
    private static readonly DrillTimeline Timeline = DrillTimeline.Resolve(
        new DrillTemplate
        {
            Slug = "scan",
            Title = "Scan",
            Purpose = "To see what is primary.",
            StandardSlug = "instrument-rating",
            Entry = new DrillEntry(360, 3000, 90),
            Segments =
            [
                new Segment { Name = "Level", DurationS = 60 },
                new Segment { Name = "Turn", TurnDeg = 90 },
                new Segment { Name = "Climb", ClimbFt = 500 },
                new Segment
                {
                    Name = "Climbing turn",
                    TurnDeg = -180,
                    ClimbFt = 500,
                },
                new Segment
                {
                    Name = "Slower",
                    DurationS = 30,
                    SpeedChangeKt = -10,
                },
            ],
        },
        new DrillEntry(360, 3000, 90)
    );

    [Theory]
    [InlineData(0, 20, ScanMoment.Established, PanelInstrument.Altimeter, PanelInstrument.Heading, PanelInstrument.Airspeed)]
    [InlineData(1, 1, ScanMoment.Entry, PanelInstrument.Altimeter, PanelInstrument.Attitude, PanelInstrument.Airspeed)]
    [InlineData(1, 15, ScanMoment.Established, PanelInstrument.Altimeter, PanelInstrument.Turn, PanelInstrument.Airspeed)]
    [InlineData(1, 28, ScanMoment.Ending, PanelInstrument.Altimeter, PanelInstrument.Heading, PanelInstrument.Airspeed)]
    [InlineData(2, 1, ScanMoment.Entry, PanelInstrument.Attitude, PanelInstrument.Attitude, PanelInstrument.Power)]
    [InlineData(2, 30, ScanMoment.Established, PanelInstrument.VerticalSpeed, PanelInstrument.Heading, PanelInstrument.Airspeed)]
    [InlineData(2, 58, ScanMoment.Ending, PanelInstrument.Altimeter, PanelInstrument.Heading, PanelInstrument.Airspeed)]
    [InlineData(3, 30, ScanMoment.Established, PanelInstrument.VerticalSpeed, PanelInstrument.Turn, PanelInstrument.Airspeed)]
    [InlineData(4, 20, ScanMoment.Established, PanelInstrument.Altimeter, PanelInstrument.Heading, PanelInstrument.Power)]
    public void Each_axis_has_its_primary_instrument(
        int segment,
        double elapsedS,
        ScanMoment moment,
        PanelInstrument pitch,
        PanelInstrument bank,
        PanelInstrument power
    )
    {
        var focus = ScanFocus.Of(Timeline.Segments[segment], segment == 0 ? null : Timeline.Segments[segment - 1], elapsedS);
        Assert.Equal((moment, pitch, bank, power), (focus.Moment, focus.Pitch.Primary, focus.Bank.Primary, focus.Power.Primary));
        Assert.All((ScanAxis[])[focus.Pitch, focus.Bank, focus.Power], axis => Assert.DoesNotContain(axis.Primary, axis.Supporting));
    }

    [Fact]
    public void Every_drill_of_the_catalogue_has_a_scan_from_its_first_second_on_in_order_of_time()
    {
        foreach (var template in Catalogue.Templates)
        {
            var along = ScanFocus.Along(DrillTimeline.Resolve(template, template.Entry));
            Assert.Equal(0, along[0].FromS);
            Assert.Equal(along.Select(a => a.FromS).Order(), along.Select(a => a.FromS));
            Assert.All(along, a => Assert.NotEmpty(a.Focus.Say));
        }
    }

    [Fact]
    public void Instruments_read_what_the_drill_asks_for_at_each_second()
    {
        // By arithmetic: 90° at 3°/s takes 30 s, 500 ft at 500 fpm a minute.
        var read = NominalReadings.Of(Timeline);
        Assert.Equal(Timeline.DurationS + 1, read.TimeS.Length);
        Assert.Equal(
            (360.0, 3000.0, 0.0, 0.0),
            (read.HeadingMagDeg[30], read.AltitudeFt[30], read.VerticalSpeedFpm[30], read.TurnRateDegPerS[30])
        );
        Assert.Equal((45.0, 3.0), (read.HeadingMagDeg[75], read.TurnRateDegPerS[75]));
        Assert.Equal((90.0, 3250.0, 500.0), (read.HeadingMagDeg[120], read.AltitudeFt[120], read.VerticalSpeedFpm[120]));
        Assert.Equal((-3.0, 3), (read.TurnRateDegPerS[170], read.SegmentIndex[170]));
        Assert.Equal(80, read.AirspeedKt[^1]);
    }
}
