using MathNet.Numerics.Distributions;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Collects findings with their weights and chances, and the words they share.</summary>
/// <param name="drill">The drill as flown.</param>
/// <param name="share">How likely the drill is read rightly beside its other readings, 0 to 1.</param>
internal sealed class FindingNotes(FlownDrill drill, double share)
{
    private readonly List<(double Weight, Finding Finding)> noted = [];

    /// <summary>
    /// Notes a finding, unless it is more likely false than true; a weight of 1 is just worth mentioning. Its probability is the chance
    /// that the flight was read rightly times that of the size.
    /// </summary>
    /// <param name="chance">How likely it is, as far as its size goes; see <see cref="Beyond"/>.</param>
    public void Add(
        double weight,
        int? index,
        FindingKind kind,
        Parameter parameter,
        double magnitude,
        double? atS,
        string text,
        double chance = 1
    )
    {
        var probability = share * FindingThresholds.RightlyRead(kind) * chance;
        if (probability < FindingThresholds.LeastProbability)
            return;
        var finding = new Finding(
            index,
            kind,
            parameter,
            Math.Round(magnitude, 1),
            ParameterFormat.Unit(parameter),
            atS is { } s ? drill.State.Track.Source.EpochUtc.AddSeconds(s) : null,
            text
        );
        noted.Add((weight, finding with { Probability = Math.Round(probability, 2) }));
    }

    /// <summary>The chance that what was measured was truly beyond a size.</summary>
    /// <param name="magnitude">As measured.</param>
    /// <param name="size">The tolerance, or what else it must be beyond, in the same unit.</param>
    /// <param name="sigma">One standard deviation of the measurement, in the same unit.</param>
    public static double Beyond(double magnitude, double size, double sigma) =>
        sigma > 0 ? Normal.CDF(0, 1, (magnitude - size) / sigma)
        : magnitude > size ? 1
        : 0;

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
