using System.Globalization;

namespace SchoolDrills.Engine.Drills;

/// <summary>Two tolerance standards compared, in sentences that an instructor would say.</summary>
public static class StandardChanges
{
    /// <summary>What the later judges otherwise than the earlier, one sentence each; empty where they judge alike.</summary>
    /// <param name="earlier">The standard before.</param>
    /// <param name="later">The standard after.</param>
    public static IReadOnlyList<string> InWords(ToleranceStandard earlier, ToleranceStandard later)
    {
        var words = new List<string>();
        foreach (var parameter in Enum.GetValues<Parameter>())
            words.AddRange(OfParameter(parameter, earlier.Tolerances, later.Tolerances));
        Share("Time in tolerance for met", earlier.RequiredShare, later.RequiredShare);
        Share("Time in tolerance for close", earlier.CloseShare, later.CloseShare);
        if (earlier.PromptCorrectionS != later.PromptCorrectionS)
        {
            words.Add(
                $"Prompt correction: within {Number(later.PromptCorrectionS)} s instead of {Number(earlier.PromptCorrectionS)} s, "
                    + $"{(later.PromptCorrectionS < earlier.PromptCorrectionS ? "stricter" : "more lenient")}."
            );
        }

        return words;

        void Share(string what, double before, double after)
        {
            if (before == after)
                return;
            words.Add($"{what}: {Percent(after)} instead of {Percent(before)}, {(after > before ? "stricter" : "more lenient")}.");
        }
    }

    // Kind by kind, what changes alike told together.
    private static IEnumerable<string> OfParameter(Parameter parameter, IReadOnlyList<Tolerance> before, IReadOnlyList<Tolerance> after)
    {
        var kinds = Enum.GetValues<SegmentKind>();
        var changes = kinds
            .Select(kind => (Kind: kind, Before: Within(before, parameter, kind), After: Within(after, parameter, kind)))
            .Where(c => c.Before != c.After)
            .GroupBy(c => (c.Before, c.After));
        foreach (var change in changes)
        {
            var where = change.Count() == kinds.Length ? "" : $" in {Listed([.. change.Select(c => Plural(c.Kind))])}";
            yield return change.Key switch
            {
                (null, { } now) => $"{Name(parameter)}{where}: now ±{Size(now, parameter)}, not judged before.",
                ({ } was, null) => $"{Name(parameter)}{where}: no longer judged, ±{Size(was, parameter)} before.",
                var (was, now) => $"{Name(parameter)}{where}: ±{Size(now!.Value, parameter)} instead of ±{Size(was!.Value, parameter)}, "
                    + $"{(now < was ? "stricter" : "more lenient")}.",
            };
        }
    }

    private static double? Within(IReadOnlyList<Tolerance> tolerances, Parameter parameter, SegmentKind kind)
    {
        var about = tolerances.Where(t => t.Parameter == parameter).ToList();
        return (about.Find(t => t.Phases?.Contains(kind) is true) ?? about.Find(t => t.Phases is null or { Count: 0 }))?.Within;
    }

    private static string Plural(SegmentKind kind) => kind == SegmentKind.LevelStraight ? "straight and level" : kind.Words() + "s";

    private static string Name(Parameter parameter) =>
        parameter switch
        {
            Parameter.VerticalSpeed => "Vertical speed",
            Parameter.TurnRate => "Turn rate",
            _ => parameter.ToString(),
        };

    private static string Size(double within, Parameter parameter) =>
        Number(within)
        + parameter switch
        {
            Parameter.Altitude => " ft",
            Parameter.Heading or Parameter.Bank => "°",
            Parameter.Airspeed => " kt",
            Parameter.VerticalSpeed => " fpm",
            Parameter.TurnRate => "°/s",
            _ => " s",
        };

    private static string Listed(IReadOnlyList<string> words) =>
        words.Count < 2 ? string.Concat(words) : $"{string.Join(", ", words.SkipLast(1))} and {words[^1]}";

    private static string Percent(double share) => Number(share * 100) + "%";

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
