using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Cockpit.Flying;

/// <summary>When the student is asked how loaded he is.</summary>
internal static class RatingTimes
{
    /// <summary>After a load task is given: long enough to have answered it, short enough to remember.</summary>
    private const double AfterTaskS = 30;

    /// <summary>Asking is a load itself.</summary>
    private const double ApartS = 60;

    /// <summary>
    /// Half a minute after each load task, later where that would be twice a minute; at half-time where none is near; and at the end.
    /// </summary>
    /// <param name="timeline">The drill.</param>
    /// <returns>Seconds from the drill's start, in time.</returns>
    public static IReadOnlyList<double> Of(DrillTimeline timeline)
    {
        var (lastS, halfS) = (timeline.DurationS - ApartS, timeline.DurationS / 2);
        var times = new List<double>();
        foreach (var task in timeline.LoadTasks.OrderBy(t => t.AtS))
        {
            var atS = Math.Max(task.AtS + AfterTaskS, times.Count > 0 ? times[^1] + ApartS : 0);
            if (atS <= lastS)
                times.Add(atS);
        }

        if (halfS <= lastS && times.All(s => Math.Abs(s - halfS) >= ApartS))
            times.Add(halfS);
        return [.. times.Order(), timeline.DurationS];
    }
}
