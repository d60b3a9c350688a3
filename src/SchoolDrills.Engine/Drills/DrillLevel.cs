using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Drills;

/// <summary>
/// How hard a drill is, calculated from its segments. The score is the sum of five parts:
/// <list type="bullet">
/// <item><description>things at once: the time-weighted mean of how many of turn, change of altitude and change of speed run
/// together, 0 to 3;</description></item>
/// <item><description>pace: changes of rate of turn, vertical speed or speed trend at segment boundaries, each thing that changes
/// counted, a minute, times 0.4;</description></item>
/// <item><description>load: checks and load tasks a minute;</description></item>
/// <item><description>steepness: the time-weighted mean of rate of turn beyond standard rate, in standard rates, times
/// 0.5;</description></item>
/// <item><description>length: minutes beyond the fifth, times 0.04.</description></item>
/// </list>
/// Levels 1 to 5 begin at 0, 0.9, 1.5, 2.1 and 2.8. Weights and limits are chosen so that the catalogue's
/// order is the order in which its drills are taught.
/// </summary>
/// <param name="Level">1 easiest, 5 hardest.</param>
/// <param name="Score">Sum of the parts.</param>
/// <param name="ThingsAtOnce">Part for simultaneous changes.</param>
/// <param name="Pace">Part for how often the targets change.</param>
/// <param name="Load">Part for checks and load tasks.</param>
/// <param name="Steepness">Part for turns beyond standard rate.</param>
/// <param name="Length">Part for length.</param>
public sealed record DrillLevel(int Level, double Score, double ThingsAtOnce, double Pace, double Load, double Steepness, double Length)
{
    private static readonly double[] LevelsBegin =
    [
        DrillModel.Level2Score,
        DrillModel.Level3Score,
        DrillModel.Level4Score,
        DrillModel.Level5Score,
    ];

    /// <summary>The level of a drill flown from its own entry.</summary>
    /// <param name="template">The drill.</param>
    public static DrillLevel Of(DrillTemplate template) => Of(DrillTimeline.Resolve(template, template.Entry));

    /// <summary>The level of a resolved drill.</summary>
    /// <param name="timeline">The drill.</param>
    public static DrillLevel Of(DrillTimeline timeline)
    {
        var (things, changes, beyond) = (0.0, 0, 0.0);
        TimelineSegment? before = null;
        foreach (var segment in timeline.Segments)
        {
            things += segment.DurationS * Planned(segment).Count(x => x != 0);
            beyond += segment.DurationS * Math.Max(0, (Math.Abs(segment.TurnRateDegPerS) / TurnGeometry.StandardRateDegPerS) - 1);
            if (before is not null)
                changes += Planned(before).Zip(Planned(segment)).Count(pair => Math.Abs(pair.First - pair.Second) > 1e-6);
            before = segment;
        }

        var minutes = timeline.DurationS / 60;
        var thingsAtOnce = things / timeline.DurationS;
        var pace = DrillModel.PaceWeight * changes / minutes;
        var load = (timeline.Checks.Count + timeline.LoadTasks.Count) / minutes;
        var steepness = DrillModel.SteepnessWeight * beyond / timeline.DurationS;
        var length = DrillModel.LengthWeight * Math.Max(0, minutes - DrillModel.EasyLengthMin);
        var score = thingsAtOnce + pace + load + steepness + length;
        return new(1 + LevelsBegin.Count(begin => score >= begin), score, thingsAtOnce, pace, load, steepness, length);
    }

    /// <summary>Rate of turn, vertical speed and speed trend.</summary>
    private static double[] Planned(TimelineSegment segment) =>
        [segment.TurnRateDegPerS, segment.VerticalSpeedFpm, (segment.AirspeedKt - segment.StartAirspeedKt) / segment.DurationS];
}
