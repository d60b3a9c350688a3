using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Editor;

/// <summary>Who and when, as the school reads them.</summary>
public sealed record SchoolWords(SchoolTime Time)
{
    public string When(DateTimeOffset instant) =>
        Time.DayOf(instant) == Time.Today ? $"at {Time.Clock(instant)}" : Time.DayAndClock(instant);

    public string Who(string name) => name.Length > 0 ? name : T["Somebody else"];
}
