using System.Globalization;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Drills.Editing;

/// <summary>One line of how a drill's level comes about.</summary>
/// <param name="What">What is counted.</param>
/// <param name="Sum">The calculation.</param>
/// <param name="Score">What it adds to the score.</param>
public sealed record LevelLine(string What, string Sum, double Score);

/// <summary>How a drill's level comes about, line by line.</summary>
public static class LevelSum
{
    private static readonly double[] Begin =
    [
        0,
        DrillModel.Level2Score,
        DrillModel.Level3Score,
        DrillModel.Level4Score,
        DrillModel.Level5Score,
    ];

    /// <summary>The five parts of the score with their calculations.</summary>
    /// <param name="level">The drill's level.</param>
    /// <param name="timeline">The drill resolved.</param>
    public static IReadOnlyList<LevelLine> Lines(DrillLevel level, DrillTimeline timeline)
    {
        var minutes = timeline.DurationS / 60;
        return
        [
            new("Things at once", "turn, climb or descent, change of speed, by their share of the time", level.ThingsAtOnce),
            new("Pace", $"{Text(level.Pace / DrillModel.PaceWeight)} changes a minute × {Text(DrillModel.PaceWeight)}", level.Pace),
            new("Load", $"{Text(timeline.Checks.Count + timeline.LoadTasks.Count)} calls in {Text(minutes)} min", level.Load),
            new(
                "Steep turns",
                $"rate beyond {Text(TurnGeometry.StandardRateDegPerS)}°/s, in standard rates, × {Text(DrillModel.SteepnessWeight)}",
                level.Steepness
            ),
            new(
                "Length",
                $"{Text(Math.Max(0, minutes - DrillModel.EasyLengthMin))} min beyond the {Text(DrillModel.EasyLengthMin)}th "
                    + $"× {Text(DrillModel.LengthWeight)}",
                level.Length
            ),
        ];
    }

    /// <summary>What the sum makes: "Together 3.04: level 5, from 2.8."</summary>
    /// <param name="level">The drill's level.</param>
    public static string Result(DrillLevel level)
    {
        var upper = level.Level < Begin.Length ? $" up to {Text(Begin[level.Level])}" : "";
        return $"Together {Text(level.Score)}: level {Text(level.Level)}, from {Text(Begin[level.Level - 1])}{upper}.";
    }

    private static string Text(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
