using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Looks for drills in a reconstructed flight.</summary>
public static class DrillFinder
{
    /// <summary>Looks for every run of a drill.</summary>
    /// <param name="flight">The flight.</param>
    /// <param name="template">The drill.</param>
    /// <param name="options">The planned entry, where it is known.</param>
    public static FoundDrill Find(ReconstructedFlight flight, DrillTemplate template, ScoringOptions options)
    {
        var planned = options.PlannedEntry(template);
        var timeline = DrillTimeline.Resolve(template, planned);
        return new FoundDrill(template, planned, RunFinder.Find(flight, timeline, OtherHand(template, planned)));
    }

    /// <summary>The drill with left and right exchanged; null where it has no turns, so that it would be the same.</summary>
    private static DrillTimeline? OtherHand(DrillTemplate template, DrillEntry planned)
    {
        var timeline = DrillTimeline.Resolve(template, planned with { Mirrored = !planned.Mirrored });
        return timeline.Segments.Any(s => s.TurnDeg != 0) ? timeline : null;
    }
}

/// <summary>Where a drill was found in a flight, before its boundaries are refined.</summary>
public sealed class FoundDrill
{
    internal FoundDrill(DrillTemplate template, DrillEntry planned, FoundRuns runs)
    {
        Template = template;
        Planned = planned;
        Runs = runs;
    }

    /// <summary>The drill looked for.</summary>
    public DrillTemplate Template { get; }

    /// <summary>The drill is in the flight.</summary>
    public bool IsFound => Runs.All.Count > 0;

    /// <summary>How sure that is, 0 to 1.</summary>
    public double Confidence => Runs.Nearest?.Alignment.Confidence ?? 0;

    /// <summary>The entry as planned.</summary>
    internal DrillEntry Planned { get; }

    /// <summary>Every run of it.</summary>
    internal FoundRuns Runs { get; }
}
