using MathNet.Numerics;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Engine.Progress;

/// <summary>A drill that may be suggested.</summary>
/// <param name="Slug">Name in addresses.</param>
/// <param name="Title">Name in sentences.</param>
/// <param name="Level">1 easiest, 5 hardest.</param>
/// <param name="Kinds">Kind of each of its segments.</param>
public sealed record DrillCandidate(string Slug, string Title, int Level, IReadOnlyList<SegmentKind> Kinds)
{
    /// <summary>A drill flown from its own entry.</summary>
    /// <param name="template">The drill.</param>
    public static DrillCandidate Of(DrillTemplate template)
    {
        var timeline = DrillTimeline.Resolve(template, template.Entry);
        return new(template.Slug, template.Title, DrillLevel.Of(timeline).Level, [.. timeline.Segments.Select(s => s.Kind)]);
    }
}

/// <summary>A drill to fly next.</summary>
/// <param name="DrillSlug">The drill.</param>
/// <param name="Target">What it works on.</param>
/// <param name="ExpectedMetShare">Share of its segments that the student is expected to meet, 0 to 1.</param>
/// <param name="Why">The reason, in words.</param>
public sealed record NextDrill(string DrillSlug, WeakSegment Target, double ExpectedMetShare, string Why)
{
    /// <summary>
    /// Drills that work the weakest segment and of which 70 to 85 % should be met, the middle first; where there is none, the one that
    /// comes nearest. None while nothing was flown three times.
    /// </summary>
    /// <remarks>
    /// The share expected is the mean over the drill's segments. What is not met at one level is carried to another by half a log odds
    /// a level; kinds not flown yet are taken to go like the rest. The band is near the 85 % that teach a learner of two choices fastest
    /// (Wilson, R. C. et al., "The eighty five percent rule for optimal learning", Nature Communications 10, 2019, 4646, from memory),
    /// with room for nerves.
    /// </remarks>
    /// <param name="segments">How the student's segments stand, worst first.</param>
    /// <param name="drills">Drills of the school.</param>
    public static IReadOnlyList<NextDrill> Of(IReadOnlyList<WeakSegment> segments, IEnumerable<DrillCandidate> drills)
    {
        if (segments.FirstOrDefault(s => s.Reason is null) is not { } target)
            return [];
        var known = segments
            .Where(s => s.Reason is null && (s.Group.Aircraft, s.Group.HasAirData) == (target.Group.Aircraft, target.Group.HasAirData))
            .ToList();
        var fit = drills
            .Where(d => d.Kinds.Contains(target.Group.Kind))
            .Select(d => (Drill: d, Expected: d.Kinds.Average(k => Expected(known, k, d.Level))))
            .OrderBy(d => Math.Abs(d.Expected - ((ProgressModel.LeastMetShare + ProgressModel.MostMetShare) / 2)))
            .ThenBy(d => d.Drill.Slug, StringComparer.Ordinal)
            .ToList();
        var atEdge = fit.Where(d => d.Expected is >= ProgressModel.LeastMetShare and <= ProgressModel.MostMetShare)
            .Take(ProgressModel.MostSuggestions)
            .ToList();
        return
        [
            .. (atEdge.Count > 0 ? atEdge : fit.Take(1)).Select(d => new NextDrill(
                d.Drill.Slug,
                target,
                d.Expected,
                $"{Weakness(target)} {Fit(d.Drill, target.Group.Kind, d.Expected)}"
            )),
        ];
    }

    private static double Expected(List<WeakSegment> known, SegmentKind kind, int level)
    {
        var alike = known.Exists(s => s.Group.Kind == kind) ? known.FindAll(s => s.Group.Kind == kind) : known;
        var nearest = alike.Min(s => Math.Abs(s.Group.Level - level));
        return alike
            .Where(s => Math.Abs(s.Group.Level - level) == nearest)
            .Average(s =>
                SpecialFunctions.Logistic(
                    SpecialFunctions.Logit(1 - s.NotMetShare) - (ProgressModel.LevelStepLogits * (level - s.Group.Level))
                )
            );
    }

    private static string Weakness(WeakSegment target)
    {
        var parameter = KebabCase.Of(target.Group.Parameter).Replace('-', ' ');
        return char.ToUpperInvariant(parameter[0])
            + $"{parameter[1..]} ({target.Group.Kind.Words()}) is "
            + (target.Recurring ? "often not met" : "the weakest so far, though not clearly weak")
            + $": about {ParameterFormat.Percent(target.NotMetShare)} at level {target.Group.Level}.";
    }

    private static string Fit(DrillCandidate drill, SegmentKind kind, double expected)
    {
        var count = drill.Kinds.Count(k => k == kind);
        var has =
            $"{drill.Title}, level {drill.Level}, has {count} such segment{(count == 1 ? "" : "s")}; "
            + $"about {ParameterFormat.Percent(expected)} of the drill should be met";
        return expected switch
        {
            < ProgressModel.LeastMetShare => $"{has}. That is hard; no other drill with such segments comes nearer to the right level.",
            > ProgressModel.MostMetShare => $"{has}. That is easy; no other drill with such segments comes nearer to the right level.",
            _ => $"{has}: hard enough to learn from.",
        };
    }
}
