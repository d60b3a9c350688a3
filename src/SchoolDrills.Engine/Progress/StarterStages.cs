namespace SchoolDrills.Engine.Progress;

/// <summary>The stages a school has before its chief defines others: drills of the starter catalogue, two of the last three met.</summary>
public static class StarterStages
{
    private static readonly IReadOnlyList<TrainingStage> All =
    [
        Stage("basics", "Basics", "timed-turns", "change-of-airspeed", "rate-climbs"),
        Stage("patterns", "Patterns", "box-step-1-square", "vertical-s", "racetrack"),
        Stage("together", "All together", "box-circles", "vertical-s-turning", "procedure-turn-45"),
        Stage("partial-panel", "Partial panel", "partial-panel-timed-turns", "partial-panel-climbs-turns"),
    ];

    /// <summary>Those of a school, as far as it has their drills.</summary>
    /// <param name="drillSlugs">Drills of the school.</param>
    public static IReadOnlyList<TrainingStage> Of(IReadOnlySet<string> drillSlugs) =>
        [.. All.Select(s => s with { Drills = [.. s.Drills.Where(d => drillSlugs.Contains(d.DrillSlug))] }).Where(s => s.Drills.Count > 0)];

    private static TrainingStage Stage(string slug, string title, params string[] drills) =>
        new(slug, title, [.. drills.Select(d => new StageDrill(d, Met: 2, Newest: 3))]);
}
