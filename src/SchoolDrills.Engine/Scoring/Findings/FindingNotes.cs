using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Collects findings with their weights, and the words they share.</summary>
internal sealed class FindingNotes(FlownDrill drill)
{
    private readonly List<(double Weight, Finding Finding)> noted = [];

    /// <summary>Notes a finding; a weight of 1 is just worth mentioning.</summary>
    public void Add(double weight, int? index, FindingKind kind, Parameter parameter, double magnitude, double? atS, string text) =>
        noted.Add(
            (
                weight,
                new Finding(
                    index,
                    kind,
                    parameter,
                    Math.Round(magnitude, 1),
                    ParameterFormat.Unit(parameter),
                    atS is { } s ? drill.State.Track.Source.EpochUtc.AddSeconds(s) : null,
                    text
                )
            )
        );

    /// <summary>The most important ones, heaviest first.</summary>
    public IReadOnlyList<Finding> Heaviest(int most) => [.. noted.OrderByDescending(t => t.Weight).Take(most).Select(t => t.Finding)];

    public static string Maneuver(TimelineSegment segment) =>
        segment.Kind switch
        {
            SegmentKind.LevelTurn or SegmentKind.ClimbTurn or SegmentKind.DescendTurn => "Turn",
            SegmentKind.ClimbStraight => "Climb",
            SegmentKind.DescendStraight => "Descent",
            SegmentKind.SpeedChange => "Speed change",
            _ => "Straight",
        };

    public static string Lower(string name) => name.Length > 1 && char.IsLower(name[1]) ? char.ToLowerInvariant(name[0]) + name[1..] : name;
}
