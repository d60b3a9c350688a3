using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Tests.Layout;

public sealed class FiguresTests
{
    [Theory]
    [InlineData(0, "360°")]
    [InlineData(359.6, "360°")]
    [InlineData(35, "035°")]
    [InlineData(-90, "270°")]
    public void A_heading_has_three_figures_and_north_is_360(double headingMagDeg, string text) =>
        Assert.Equal(text, Figures.Heading(headingMagDeg));

    [Theory]
    [InlineData(-118.4, "ft", "−118 ft")]
    [InlineData(14, "deg", "+14°")]
    [InlineData(-0.44, "deg/s", "−0.4°/s")]
    [InlineData(-0.2, "s", "0 s")]
    [InlineData(1250, "fpm", "+1,250 fpm")]
    public void An_offset_carries_a_real_sign_and_no_sign_on_nought(double value, string unit, string text) =>
        Assert.Equal(text, Figures.Offset(value, unit));

    [Theory]
    [InlineData(90, "1:30")]
    [InlineData(837, "13:57")]
    [InlineData(-5, "−0:05")]
    public void The_drill_clock_reads_in_minutes_and_seconds(double seconds, string text) => Assert.Equal(text, Figures.Clock(seconds));

    [Fact]
    public void What_is_not_known_is_a_dash_and_never_nought() => Assert.Equal("–", Figures.Quantity(null, "ft"));
}
