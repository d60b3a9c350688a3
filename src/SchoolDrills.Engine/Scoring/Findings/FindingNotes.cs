using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Findings while they are gathered, with what each weighs, and the words they share.</summary>
internal sealed class FindingNotes(FlownDrill drill)
{
    private readonly List<(double Weight, Finding Finding)> noted = [];

    /// <summary>Notes a finding; its weight is its size in what is just worth a word.</summary>
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

    /// <summary>The most telling ones, heaviest first.</summary>
    public IReadOnlyList<Finding> Heaviest(int most) => [.. noted.OrderByDescending(t => t.Weight).Take(most).Select(t => t.Finding)];

    public static string Manoeuvre(TimelineSegment segment) =>
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
