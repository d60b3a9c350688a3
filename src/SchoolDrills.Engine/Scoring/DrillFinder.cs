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
        return new FoundDrill(template, planned, RunFinder.Find(flight, timeline, Mirrored(template, planned)));
    }

    /// <summary>The drill mirrored; null where it has no turns, so that it would be the same.</summary>
    private static DrillTimeline? Mirrored(DrillTemplate template, DrillEntry planned)
    {
        var timeline = DrillTimeline.Resolve(template, planned with { Mirrored = !planned.Mirrored });
        return timeline.Segments.Any(s => s.TurnDeg != 0) ? timeline : null;
    }
}
