using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Web.Drills;

/// <summary>What of the catalogue is looked for; each part may be left out.</summary>
/// <param name="Words">Each is in title, purpose or slug.</param>
/// <param name="Trains">One of <see cref="Trainings"/>.</param>
/// <param name="Length">One of <see cref="Lengths"/>.</param>
public sealed record DrillFilter(string? Words, string? Trains, int? Level, string? Length)
{
    private const double ShortS = 5 * 60;
    private const double LongS = 10 * 60;

    /// <summary>What a drill trains, by what its segments ask.</summary>
    public static IReadOnlyList<(string Slug, string Label)> Trainings =>
        [("turns", T["Turns"]), ("climbs", T["Climbs and descents"]), ("speed", T["Changes of speed"]), ("load", T["Load on top"])];

    public static IReadOnlyList<(string Slug, string Label)> Lengths =>
        [("short", T["Up to 5 minutes"]), ("medium", T["5 to 10 minutes"]), ("long", T["Over 10 minutes"])];

    /// <summary>What a drill trains, in words.</summary>
    public static IEnumerable<string> TrainedBy(DrillSummary drill) =>
        Trainings.Where(t => new DrillFilter(null, t.Slug, null, null).Takes(drill)).Select(t => t.Label.ToLowerInvariant());

    public bool IsEmpty => string.IsNullOrWhiteSpace(Words) && Trains is null && Level is null && Length is null;

    public bool Takes(DrillSummary drill) =>
        (Words ?? "")
            .Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)
            .All(w =>
                drill.Title.Contains(w, StringComparison.OrdinalIgnoreCase)
                || drill.Purpose.Contains(w, StringComparison.OrdinalIgnoreCase)
                || drill.Slug.Contains(w, StringComparison.OrdinalIgnoreCase)
            )
        && (Level is not { } level || drill.Level == level)
        && Length switch
        {
            "short" => drill.DurationS <= ShortS,
            "medium" => drill.DurationS is > ShortS and <= LongS,
            "long" => drill.DurationS > LongS,
            _ => true,
        }
        && Trains switch
        {
            "turns" => drill.Turns,
            "climbs" => drill.Kinds.Any(k =>
                k is SegmentKind.ClimbStraight or SegmentKind.ClimbTurn or SegmentKind.DescendStraight or SegmentKind.DescendTurn
            ),
            "speed" => drill.Kinds.Contains(SegmentKind.SpeedChange),
            "load" => drill.LoadOnTop,
            _ => true,
        };
}
