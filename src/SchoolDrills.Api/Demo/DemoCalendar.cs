using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace SchoolDrills.Api.Demo;

/// <summary>The demo's days, moved so that its last flights were flown just before the school was made.</summary>
/// <param name="Days">By how many days.</param>
internal sealed partial record DemoCalendar(int Days)
{
    /// <summary>The day after the recordings' last weeks.</summary>
    private static readonly DateOnly MadeFor = new(2026, 11, 26);

    /// <summary>For a school that is made today.</summary>
    public static DemoCalendar From(DateOnly today) => new(today.DayNumber - MadeFor.DayNumber);

    /// <summary>For a school that was made when one of its flights was due.</summary>
    public static DemoCalendar From(DemoFlight flight, DateOnly dueOn) => new(dueOn.DayNumber - flight.RecordedOn.AddDays(2).DayNumber);

    public DateOnly Of(DemoFlight flight) => flight.RecordedOn.AddDays(Days);

    public DateOnly DueOn(DemoFlight flight) => Of(flight).AddDays(2);

    /// <summary>Name of a recording, with its new day.</summary>
    public string FileOf(DemoFlight flight) => Of(flight).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) + flight.File[10..];

    /// <summary>The recording with all its dates moved.</summary>
    public byte[] Moved(byte[] recording) =>
        Encoding.UTF8.GetBytes(Date().Replace(Encoding.UTF8.GetString(recording), d => Moved(d.Value)));

    private string Moved(string date)
    {
        var form = date.Length == 6 ? "ddMMyy" : "yyyy-MM-dd";
        return DateOnly.ParseExact(date, form, CultureInfo.InvariantCulture).AddDays(Days).ToString(form, CultureInfo.InvariantCulture);
    }

    /// <summary>The date of an ISO time or in a column of its own, or that of an IGC header.</summary>
    [GeneratedRegex(
        @"\b\d{4}-\d\d-\d\d(?=[T,])|(?<=^HFDTE(DATE:)?)\d{6}",
        RegexOptions.Multiline | RegexOptions.ExplicitCapture | RegexOptions.CultureInvariant
    )]
    private static partial Regex Date();
}
