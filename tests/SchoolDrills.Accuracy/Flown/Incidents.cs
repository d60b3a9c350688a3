using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>What breaks the even course of a lesson, none of it an error of the pilot.</summary>
/// <param name="PauseAfter">Segment after which other flight comes between, -1 for none.</param>
/// <param name="AgainAfter">Maneuver flown a second time from where it began, -1 for none.</param>
/// <param name="BegunAgainAfter">Last segment of a first try that is broken off, -1 where there was none.</param>
/// <param name="Other">Another drill in the same flight.</param>
/// <param name="OtherFirst">It comes before.</param>
internal sealed record Incidents(int PauseAfter, int AgainAfter, int BegunAgainAfter, DrillTemplate? Other, bool OtherFirst)
{
    public static Incidents None { get; } = new(-1, -1, -1, null, false);

    /// <summary>Shows only in a recording of the whole flight.</summary>
    public bool NeedsWholeFlight => BegunAgainAfter >= 0 || Other is not null;

    public override string ToString() =>
        $"pause after {PauseAfter}, again {AgainAfter}, first try to {BegunAgainAfter}, other drill {Other?.Slug ?? "none"}";

    /// <summary>Draws what happens in a drill, away from the errors on purpose.</summary>
    public static Incidents Draw(Random random, DrillTemplate template, DrillTimeline timeline, IReadOnlyList<Mistake> mistakes)
    {
        var segments = timeline.Segments;
        var until = mistakes.FirstOrDefault(m => m.Kind == "abort")?.Segment ?? segments.Count - 1;
        // A straight after other flight would begin unseen, and after the first segment it is no pause but a later start.
        var pauses = Where(k => segments[k + 1].Kind != SegmentKind.LevelStraight);
        var pauseAfter = pauses.Count > 0 && random.Happens(Population.Pause) ? random.One(pauses) : -1;
        var maneuvers = Where(k => k != pauseAfter && segments[k].Kind is not (SegmentKind.LevelStraight or SegmentKind.SpeedChange));
        var againAfter = maneuvers.Count > 0 && random.Happens(Population.FlownAgain) ? random.One(maneuvers) : -1;
        var begunAgainAfter = segments.Count >= 6 && random.Happens(Population.BegunAgain) ? random.Next(1, 4) : -1;
        if (!random.Happens(Population.OtherDrill))
            return new(pauseAfter, againAfter, begunAgainAfter, null, false);
        // Drills of one family hold each other's segments, so that either may be found for the other.
        var others = Catalogue.Templates.Where(t => Family(t) != Family(template)).ToList();
        return new(pauseAfter, againAfter, begunAgainAfter, random.One(others), random.Happens(0.5));

        List<int> Where(Func<int, bool> suits) =>
            [
                .. Enumerable
                    .Range(1, Math.Max(0, until - 2))
                    .Where(k => suits(k) && mistakes.All(m => m.Segment < k - 1 || m.Segment > k + 2)),
            ];
        static string Family(DrillTemplate t) => t.Slug.Split('-')[0];
    }
}
