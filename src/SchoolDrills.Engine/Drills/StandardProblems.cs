using System.Globalization;

namespace SchoolDrills.Engine.Drills;

/// <summary>What keeps a tolerance standard from being judged by, field by field.</summary>
public static class StandardProblems
{
    /// <summary>Most tolerances of a standard.</summary>
    private const int MostTolerances = 50;

    /// <summary>The problems, in the order of the fields; empty when it can be judged by.</summary>
    /// <param name="standard">The standard.</param>
    public static IReadOnlyList<FieldProblem> Of(ToleranceStandard standard)
    {
        // JSON can hold null where the type has none.
        if (standard.Tolerances is null || standard.Tolerances.Any(t => t is null))
            return [new("tolerances", "A standard needs tolerances, none of them null.")];
        var problems = new List<FieldProblem>();
        if (TemplateProblems.SlugProblem(standard.Slug) is { } slugProblem)
            problems.Add(new("slug", slugProblem));
        if (standard.Supersedes is { } earlier && (earlier == standard.Slug || TemplateProblems.SlugProblem(earlier) is not null))
            problems.Add(new("supersedes", "supersedes must be the slug of another standard."));
        Words("title", "a title", standard.Title, TemplateLimits.NameLength, problems);
        Words("source", "a source", standard.Source, TemplateLimits.TextLength, problems);
        if (standard.Edition is { Length: > 0 } edition)
            Words("edition", "an edition", edition, TemplateLimits.NameLength, problems);
        Words("basis", "a basis", standard.Basis, TemplateLimits.NameLength, problems);
        OfTolerances(standard.Tolerances, problems);
        if (!(standard.RequiredShare > 0 && standard.RequiredShare <= 1))
            problems.Add(new("requiredShare", "The required share must be above 0 and at most 1."));
        else if (!(standard.CloseShare > 0 && standard.CloseShare <= standard.RequiredShare))
            problems.Add(new("closeShare", "The close share must be above 0 and at most the required share."));
        if (!(standard.PromptCorrectionS is >= 0 and <= 60))
            problems.Add(new("promptCorrectionS", "The time of prompt correction must be 0 to 60 s."));
        return problems;
    }

    private static void OfTolerances(IReadOnlyList<Tolerance> tolerances, List<FieldProblem> problems)
    {
        if (tolerances.Count == 0)
            problems.Add(new("tolerances", "A standard needs at least one tolerance."));
        if (tolerances.Count > MostTolerances)
        {
            problems.Add(new("tolerances", Text($"There are {tolerances.Count} tolerances; the limit is {MostTolerances}.")));
            return;
        }

        var given = new HashSet<(Parameter, SegmentKind?)>();
        foreach (var (i, tolerance) in tolerances.Index())
        {
            var name = KebabCase.Of(tolerance.Parameter);
            if (!(tolerance.Within > 0 && double.IsFinite(tolerance.Within)))
                problems.Add(new(Text($"tolerances[{i}].within"), $"The {name} tolerance must be above 0."));
            if (tolerance.Basis is { } basis)
                Words(Text($"tolerances[{i}].basis"), $"the basis of the {name} tolerance", basis, TemplateLimits.TextLength, problems);
            IEnumerable<SegmentKind?> kinds = tolerance.Phases is { Count: > 0 } phases ? phases.Select(p => (SegmentKind?)p) : [null];
            // Every twin is told once, beside the later of the two.
            foreach (var kind in kinds.Where(k => !given.Add((tolerance.Parameter, k))).Distinct())
            {
                var where = kind is { } one ? KebabCase.Of(one) : "all segments";
                problems.Add(new(Text($"tolerances[{i}].phases"), $"The {name} tolerance is given twice for {where}."));
            }
        }
    }

    private static void Words(string field, string what, string? text, int limit, List<FieldProblem> problems)
    {
        if (string.IsNullOrWhiteSpace(text))
            problems.Add(new(field, $"A standard needs {what}."));
        else if (TemplateProblems.TextProblem(text, limit) is { } problem)
            problems.Add(new(field, $"{char.ToUpperInvariant(what[0])}{what[1..]} {problem}."));
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
