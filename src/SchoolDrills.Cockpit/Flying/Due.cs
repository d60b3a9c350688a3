using SchoolDrills.Cockpit.Storage;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Cockpit.Flying;

/// <summary>How a check, a load task or a rating stands at one moment.</summary>
internal enum DueState
{
    /// <summary>Its time has not come.</summary>
    Ahead,

    /// <summary>To be done now.</summary>
    Now,

    /// <summary>Its window has closed without a mark; it can still be marked.</summary>
    Late,

    /// <summary>A load task that was given and is not answered yet.</summary>
    Given,

    Done,
}

/// <summary>What is laid on top of the flying, beside what was marked of it.</summary>
internal static class Due
{
    /// <summary>A rating that was not asked for in this time is not asked for any more: the moment has passed.</summary>
    private const double RatingS = 45;

    public static DueState Of(TimedCheck check, double nowS, IEnumerable<StoredMark> marks) =>
        Marked(marks, EventKinds.CheckDone, check.Name) ? DueState.Done
        : nowS < check.FromS ? DueState.Ahead
        : nowS <= check.ToS ? DueState.Now
        : DueState.Late;

    public static DueState Of(TimedLoadTask task, double nowS, IEnumerable<StoredMark> marks)
    {
        if (Marked(marks, EventKinds.TaskAnswered, task.Name) || Marked(marks, EventKinds.TaskAnsweredWrong, task.Name))
            return DueState.Done;
        if (Marked(marks, EventKinds.TaskGiven, task.Name))
            return DueState.Given;
        return nowS < task.AtS ? DueState.Ahead : DueState.Now;
    }

    /// <summary>The rating that is to be asked for now; null where none is.</summary>
    /// <param name="timesS">All of the drill's, in time.</param>
    /// <param name="startedAtUtc">When the drill's clock was started.</param>
    public static double? Rating(
        IReadOnlyList<double> timesS,
        double nowS,
        DateTimeOffset startedAtUtc,
        IReadOnlyCollection<StoredMark> marks
    )
    {
        if (timesS.LastOrDefault(s => s <= nowS, -1) is var asked && (asked < 0 || nowS > asked + RatingS))
            return null;
        var since = startedAtUtc.AddSeconds(asked);
        return marks.Any(m => !m.Undone && m.Kind == EventKinds.LoadRating && m.AtUtc >= since) ? null : asked;
    }

    private static bool Marked(IEnumerable<StoredMark> marks, string kind, string name) =>
        marks.Any(m => !m.Undone && m.Kind == kind && m.Detail == name);
}
