using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Cockpit.Flying;

/// <summary>When the student is asked how loaded he is.</summary>
internal static class RatingTimes
{
    /// <summary>After a load task is given: long enough to have answered it, short enough to remember.</summary>
    private const double AfterTaskS = 30;

    /// <summary>Asking is a load itself.</summary>
    private const double ApartS = 60;

    /// <summary>Half a minute after each load task but never twice a minute, in any case at half-time, and at the end.</summary>
    /// <param name="timeline">The drill.</param>
    /// <returns>Seconds from the drill's start, in time.</returns>
    public static IReadOnlyList<double> Of(DrillTimeline timeline)
    {
        var times = new List<double>();
        foreach (var atS in timeline.LoadTasks.Select(t => t.AtS + AfterTaskS).Append(timeline.DurationS / 2).Order())
        {
            if (atS <= timeline.DurationS - ApartS && (times.Count == 0 || atS >= times[^1] + ApartS))
                times.Add(atS);
        }

        return [.. times, timeline.DurationS];
    }
}
