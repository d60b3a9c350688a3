using System.Globalization;

namespace SchoolDrills.Web.Layout;

/// <summary>Instants and days in a school's own zone.</summary>
/// <param name="zoneId">IANA name of the zone.</param>
/// <param name="clock">Now.</param>
public sealed class SchoolTime(string zoneId, TimeProvider clock)
{
    private static readonly CultureInfo English = CultureInfo.InvariantCulture;

    // A zone this machine does not know is shown as UTC, and says so by its name.
    private readonly TimeZoneInfo zone = TimeZoneInfo.TryFindSystemTimeZoneById(zoneId, out var found) ? found : TimeZoneInfo.Utc;

    public DateOnly Today => DayOf(clock.GetUtcNow());

    public string ZoneName => zone.Id;

    public DateOnly DayOf(DateTimeOffset instant) => DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(instant, zone).DateTime);

    /// <summary>14:05.</summary>
    public string Clock(DateTimeOffset instant) => TimeZoneInfo.ConvertTime(instant, zone).ToString("HH:mm", English);

    /// <summary>14:05:09.</summary>
    public string ClockWithSeconds(DateTimeOffset instant) => TimeZoneInfo.ConvertTime(instant, zone).ToString("HH:mm:ss", English);

    /// <summary>The instant at which the school's clock shows a time, of the days about a known instant the nearest.</summary>
    public DateTimeOffset At(TimeOnly clock, DateTimeOffset near)
    {
        var there = TimeZoneInfo.ConvertTime(near, zone);
        var same = new DateTimeOffset(DateOnly.FromDateTime(there.DateTime), clock, there.Offset);
        return ((IEnumerable<DateTimeOffset>)[same.AddDays(-1), same, same.AddDays(1)])
            .MinBy(at => (at - near).Duration())
            .ToUniversalTime();
    }

    /// <summary>Today, Yesterday, Mon 2 Mar, or with the year where it is another.</summary>
    public string Day(DateOnly day)
    {
        var days = day.DayNumber - Today.DayNumber;
        return days switch
        {
            0 => T["today | in a sentence"],
            -1 => T["yesterday | in a sentence"],
            1 => T["tomorrow | in a sentence"],
            _ => day.ToString(day.Year == Today.Year ? "ddd d MMM" : "d MMM yyyy", English),
        };
    }

    public string Day(DateTimeOffset instant) => Day(DayOf(instant));

    /// <summary>Mon 2 Mar, 14:05.</summary>
    public string DayAndClock(DateTimeOffset instant) => $"{Day(instant)}, {Clock(instant)}";

    /// <summary>due tomorrow; due Fri 6 Mar; 3 days overdue; no due date.</summary>
    public string Due(DateOnly? due)
    {
        if (due is not { } day)
            return T["no due date"];
        var late = Today.DayNumber - day.DayNumber;
        return late switch
        {
            > 1 => T["{0} days overdue", late],
            1 => T["1 day overdue"],
            _ => T["due {0}", Day(day)],
        };
    }
}
