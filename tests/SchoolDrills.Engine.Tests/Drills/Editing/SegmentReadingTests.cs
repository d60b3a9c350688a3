using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Drills.Editing;
using Xunit;

namespace SchoolDrills.Engine.Tests.Drills.Editing;

public sealed class SegmentReadingTests
{
    private static readonly SegmentStart Start = new(360, 3000, 90);

    [Theory]
    [InlineData("30", "straight and level for 0:30")]
    [InlineData("30 s", "straight and level for 0:30")]
    [InlineData("straight and level for 2 min", "straight and level for 2:00")]
    [InlineData("hold 1:30", "straight and level for 1:30")]
    [InlineData("right 90", "right 90°")]
    [InlineData("R90", "right 90°")]
    [InlineData("left turn 90° at 1.5°/s", "left 90° at 1.5°/s")]
    [InlineData("left 90 at half rate", "left 90° at 1.5°/s")]
    [InlineData("right circle, climb 1000", "right 360°, climb 1,000 ft")]
    [InlineData("climbing right 360 up 1,000 ft", null)]
    [InlineData("right 360 at 3 climb 1,000 ft at 500 fpm", "right 360° at 3°/s, climb 1,000 ft at 500 fpm")]
    [InlineData("turn to 270", "left 90°")]
    [InlineData("right to 270", "right 270°")]
    [InlineData("left to 360", "left 360°")]
    [InlineData("climb to 4000", "climb 1,000 ft")]
    [InlineData("descend to 2500 at 700", "descend 500 ft at 700 fpm")]
    [InlineData("slow to 80 in 1:00", "slow by 10 kt, in 1:00")]
    [InlineData("slow by 5 in 20 s", "slow by 5 kt, in 0:20")]
    [InlineData("speed up to 100 in 60", "speed up by 10 kt, in 1:00")]
    [InlineData("+10 kt in 60 s", "speed up by 10 kt, in 1:00")]
    [InlineData("rigth 90", null)]
    [InlineData("right", null)]
    [InlineData("right 90 left 90", null)]
    [InlineData("", null)]
    [InlineData("and then", null)]
    [InlineData("§$%", null)]
    public void A_segment_is_read_as_it_is_said(string text, string? words)
    {
        var reading = SegmentReading.Read(text, Start);

        Assert.Equal(words, reading.Segment is { } segment ? SegmentWords.Of(segment) : null);
        Assert.Equal(words is null, reading.Problem is not null);
    }

    [Fact]
    public void What_stands_before_a_colon_is_the_name()
    {
        Assert.Equal(new Segment { Name = "corner", TurnDeg = 90 }, SegmentReading.Read("corner: right 90", Start).Segment);
        Assert.Equal(new Segment { Name = "leg 2", DurationS = 90 }, SegmentReading.Read("leg 2: 1:30", Start).Segment);
    }

    [Fact]
    public void Every_example_is_understood() =>
        Assert.All(SegmentReading.Examples, e => Assert.NotNull(SegmentReading.Read(e, Start).Segment));

    [Fact]
    public void Fields_take_the_same_words()
    {
        Assert.Equal(-90, SegmentReading.TurnDeg("L 90", Start));
        Assert.Equal(-90, SegmentReading.TurnDeg("−90", Start));
        Assert.Equal(-90, SegmentReading.TurnDeg("to 270", Start));
        Assert.Equal(90, SegmentReading.TurnDeg("90°", Start));
        Assert.Equal(-500, SegmentReading.ClimbFt("to 2500", Start));
        Assert.Equal(-10, SegmentReading.SpeedChangeKt("to 80", Start));
        Assert.Equal(90, SegmentReading.TimeS("1:30"));
        Assert.Null(SegmentReading.TurnDeg("", Start));
        Assert.Equal(double.NaN, SegmentReading.TurnDeg("ninety", Start));
        Assert.Equal(double.NaN, SegmentReading.TurnDeg("90 climb 500", Start));
        Assert.Equal(double.NaN, SegmentReading.TimeS("right 90"));
    }
}
