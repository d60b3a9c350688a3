using System.Globalization;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

public sealed class ParameterFormatTests
{
    [Theory]
    [InlineData(Parameter.Altitude, 118, "120 ft", "ft")]
    [InlineData(Parameter.Heading, 9.6, "10°", "deg")]
    [InlineData(Parameter.Bank, 4.4, "4°", "deg")]
    [InlineData(Parameter.Airspeed, 12.7, "13 kt", "kt")]
    [InlineData(Parameter.VerticalSpeed, 233, "230 fpm", "fpm")]
    [InlineData(Parameter.TurnRate, 0.84, "0.8°/s", "deg/s")]
    [InlineData(Parameter.Timing, 7.6, "8 s", "s")]
    public void Sizes_are_rounded_as_a_pilot_reads_them(Parameter parameter, double value, string text, string unit)
    {
        var before = CultureInfo.CurrentCulture;
        try
        {
            // A decimal comma on the server changes nothing.
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
            Assert.Equal(text, ParameterFormat.Text(value, parameter));
            Assert.Equal(unit, ParameterFormat.Unit(parameter));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }
}
