using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Tests.Layout;

public sealed class SchoolTimeTests
{
    private static readonly SchoolTime Time = new("Pacific/Auckland", new PageTest.FixedClock(SampleSchool.Now));

    // 21:00 UTC on 2 March is 10:00 on 3 March in New Zealand daylight time (UTC+13).
    [Fact]
    public void A_day_is_the_schools_day_and_not_the_servers() => Assert.Equal(new DateOnly(2026, 3, 3), Time.Today);

    [Fact]
    public void An_instant_reads_as_day_and_clock_in_the_schools_zone() =>
        Assert.Equal("yesterday, 23:30", Time.DayAndClock(new DateTimeOffset(2026, 3, 2, 10, 30, 0, TimeSpan.Zero)));

    [Theory]
    [InlineData("2026-03-03", "due today")]
    [InlineData("2026-03-04", "due tomorrow")]
    [InlineData("2026-03-06", "due Fri 6 Mar")]
    [InlineData("2027-01-09", "due 9 Jan 2027")]
    [InlineData("2026-03-02", "1 day overdue")]
    [InlineData("2026-02-27", "4 days overdue")]
    public void A_due_date_reads_as_a_person_says_it(string due, string words) =>
        Assert.Equal(words, Time.Due(DateOnly.Parse(due, System.Globalization.CultureInfo.InvariantCulture)));

    [Fact]
    public void An_unknown_zone_falls_back_to_UTC_by_name() =>
        Assert.Equal("UTC", new SchoolTime("Nowhere/Nothing", TimeProvider.System).ZoneName);
}
