using System.Globalization;
using System.Text.RegularExpressions;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Drills;

/// <summary>A problem of a template and where it is.</summary>
/// <param name="Path">The place, by the members of the JSON: <c>segments[2].segments[0]</c>, <c>entry.altitudeFt</c>, <c>title</c>.</param>
/// <param name="Sentence">One sentence, with the calculation where there is one.</param>
public sealed record TemplateProblem(string Path, string Sentence);

/// <summary>
/// What keeps a template from being flown: contradictions, missing parts, values beyond <see cref="TemplateLimits"/>.
/// </summary>
public static partial class TemplateProblems
{
    /// <summary>
    /// The problems of a template with its own entry, one sentence each, in the template's order; empty when it resolves.
    /// </summary>
    /// <param name="template">The drill.</param>
    public static IReadOnlyList<string> Of(DrillTemplate template) => Of(template, template.Entry);

    /// <summary>The problems of a template flown from an entry, one sentence each; empty when it resolves.</summary>
    /// <param name="template">The drill.</param>
    /// <param name="entry">Heading, altitude and airspeed of the first segment.</param>
    public static IReadOnlyList<string> Of(DrillTemplate template, DrillEntry entry) =>
        [.. Located(template, entry).Select(p => p.Sentence)];

    /// <summary>The problems of a template with its own entry, each with the place in the template it is about.</summary>
    /// <param name="template">The drill.</param>
    public static IReadOnlyList<TemplateProblem> Located(DrillTemplate template) => Located(template, template.Entry);

    private static List<TemplateProblem> Located(DrillTemplate template, DrillEntry entry)
    {
        var problems = new List<TemplateProblem>();
        OfTexts(template, problems);
        OfEntry(entry, problems);
        if (template.Segments.Count == 0)
            problems.Add(new("segments", "The drill has no segments."));
        SegmentProblems.Of(template.Segments, "segment ", "segments", 1, problems);
        // Only segments without problems can be added up.
        if (problems.Count > 0)
            return problems;
        if (FlownCount(template.Segments) is var count and > TemplateLimits.Segments)
        {
            return
            [
                new("segments", $"With repetitions the drill has {Text(count)} segments; the limit is {Text(TemplateLimits.Segments)}."),
            ];
        }

        OfWhole(template, entry, problems);
        return problems;
    }

    private static void OfTexts(DrillTemplate template, List<TemplateProblem> problems)
    {
        if (template.SchemaVersion != 1)
            problems.Add(new("schemaVersion", $"schemaVersion is {Text(template.SchemaVersion)}; this program reads version 1."));
        if (SlugProblem(template.Slug) is { } slugProblem)
            problems.Add(new("slug", slugProblem));
        if (SlugProblem(template.StandardSlug) is not null)
        {
            problems.Add(new("standardSlug", $"standardSlug \"{template.StandardSlug}\" must be the slug of a tolerance standard."));
        }

        if (template.Version < 0)
            problems.Add(new("version", "version must not be negative."));
        Name("title", "title", template.Title);
        Words("purpose", "purpose", template.Purpose);
        if (template.Trains is { } trains)
            Words("trains", "trains", trains);
        Each("prerequisites", "each prerequisite", template.Prerequisites);
        Each("commonErrors", "each common error", template.CommonErrors);
        Each("sources", "each source", template.Sources);
        Many("checks", "checks", template.Checks.Count);
        Many("loadTasks", "load tasks", template.LoadTasks.Count);
        for (var i = 0; i < template.Checks.Count; i++)
        {
            var (path, here) = ($"checks[{Text(i)}]", $"check {Text(i + 1)}");
            Name($"{path}.name", $"{here}: its name", template.Checks[i].Name);
            if (template.Checks[i].Items.Count == 0)
                problems.Add(new($"{path}.items", $"{here} has no items."));
            Each($"{path}.items", $"{here}: each item", template.Checks[i].Items);
        }

        for (var i = 0; i < template.LoadTasks.Count; i++)
        {
            var (path, here) = ($"loadTasks[{Text(i)}]", $"load task {Text(i + 1)}");
            Name($"{path}.name", $"{here}: its name", template.LoadTasks[i].Name);
            Words($"{path}.script", $"{here}: its script", template.LoadTasks[i].Script);
            if (template.LoadTasks[i].ExpectedAnswer is { } answer)
                Words($"{path}.expectedAnswer", $"{here}: its answer", answer);
        }

        void Many(string path, string what, int count)
        {
            if (count > TemplateLimits.Calls)
                problems.Add(new(path, $"There are {Text(count)} {what}; the limit is {Text(TemplateLimits.Calls)}."));
        }

        void Each(string path, string what, IReadOnlyList<string> texts)
        {
            for (var i = 0; i < texts.Count; i++)
                Words($"{path}[{Text(i)}]", what, texts[i]);
        }

        void Name(string path, string what, string text) => Length(path, what, text, TemplateLimits.NameLength);
        void Words(string path, string what, string text) => Length(path, what, text, TemplateLimits.TextLength);
        void Length(string path, string what, string text, int limit)
        {
            if (string.IsNullOrWhiteSpace(text))
                problems.Add(new(path, $"{what} must not be empty."));
            else if (TextProblem(text, limit) is { } problem)
                problems.Add(new(path, $"{what} {problem}."));
        }
    }

    /// <summary>Problem of a text that may be empty; null when it has none.</summary>
    internal static string? TextProblem(string text, int limit) =>
        text.Length > limit ? $"has {Text(text.Length)} characters; the limit is {Text(limit)}"
        // Control characters, the null above all, cannot be printed and not every store keeps them.
        : text.Any(c => char.IsControl(c) && c is not ('\n' or '\t')) ? "has a control character"
        : null;

    private static void OfEntry(DrillEntry entry, List<TemplateProblem> problems)
    {
        if (!(entry.HeadingMagDeg is > 0 and <= 360))
            Add("headingMagDeg", $"The entry heading is {Text(entry.HeadingMagDeg)}; it must be above 0 and at most 360.");
        if (!(entry.AltitudeFt is >= TemplateLimits.LowestAltitudeFt and <= TemplateLimits.HighestAltitudeFt))
        {
            Add(
                "altitudeFt",
                $"The entry altitude is {Text(entry.AltitudeFt)} ft; it must be "
                    + $"{Text(TemplateLimits.LowestAltitudeFt)} to {Text(TemplateLimits.HighestAltitudeFt)} ft."
            );
        }

        if (!(entry.AirspeedKt is >= TemplateLimits.LowestAirspeedKt and <= TemplateLimits.HighestAirspeedKt))
        {
            Add(
                "airspeedKt",
                $"The entry airspeed is {Text(entry.AirspeedKt)} kt; it must be "
                    + $"{Text(TemplateLimits.LowestAirspeedKt)} to {Text(TemplateLimits.HighestAirspeedKt)} kt."
            );
        }

        void Add(string member, string sentence) => problems.Add(new($"entry.{member}", sentence));
    }

    private static void OfWhole(DrillTemplate template, DrillEntry entry, List<TemplateProblem> problems)
    {
        var (lengthS, altitudeFt, airspeedKt) = (0.0, entry.AltitudeFt, entry.AirspeedKt);
        foreach (var (name, segment, path) in FlatSegments.Of(template))
        {
            lengthS += SegmentTimes.Of(segment)[0].S;
            altitudeFt += segment.ClimbFt ?? 0;
            airspeedKt += segment.SpeedChangeKt ?? 0;
            var where = name.Length == 0 ? "A segment" : $"\"{name}\"";
            if (altitudeFt is < TemplateLimits.LowestAltitudeFt or > TemplateLimits.HighestAltitudeFt)
            {
                problems.Add(
                    new(
                        path,
                        $"{where} ends at {Text(altitudeFt)} ft; the limits are "
                            + $"{Text(TemplateLimits.LowestAltitudeFt)} and {Text(TemplateLimits.HighestAltitudeFt)} ft."
                    )
                );
            }

            if (airspeedKt is < TemplateLimits.LowestAirspeedKt or > TemplateLimits.HighestAirspeedKt)
            {
                problems.Add(
                    new(
                        path,
                        $"{where} ends at {Text(airspeedKt)} kt; the limits are "
                            + $"{Text(TemplateLimits.LowestAirspeedKt)} and {Text(TemplateLimits.HighestAirspeedKt)} kt."
                    )
                );
            }

            if (
                segment.TurnDeg is not null
                && TurnGeometry.BankDeg(segment.TurnRateDegPerS ?? TurnGeometry.StandardRateDegPerS, airspeedKt)
                    is var bankDeg
                        and > TemplateLimits.BankDeg
            )
            {
                problems.Add(
                    new(
                        path,
                        $"{where}: {Text(segment.TurnRateDegPerS ?? TurnGeometry.StandardRateDegPerS)}°/s at "
                            + $"{Text(airspeedKt)} kt needs {Text(bankDeg)}° of bank; the limit is {Text(TemplateLimits.BankDeg)}°."
                    )
                );
            }
            // The first problem is enough: the others follow from it.
            if (problems.Count > 0)
                return;
        }

        if (lengthS > TemplateLimits.DurationS)
            problems.Add(new("segments", $"The drill takes {Text(lengthS)} s; the limit is {Text(TemplateLimits.DurationS)} s."));
        for (var i = 0; i < template.Checks.Count; i++)
        {
            var check = template.Checks[i];
            if (!(check.FromS >= 0 && check.WindowS > 0 && check.FromS + check.WindowS <= lengthS + DrillModel.AgreementS))
            {
                problems.Add(
                    new(
                        $"checks[{Text(i)}].fromS",
                        $"Check \"{check.Name}\" runs from {Text(check.FromS)} s for {Text(check.WindowS)} s; the "
                            + $"drill runs from 0 to {Text(lengthS)} s."
                    )
                );
            }
        }

        for (var i = 0; i < template.LoadTasks.Count; i++)
        {
            var task = template.LoadTasks[i];
            if (!(task.AtS >= 0 && task.AtS <= lengthS))
            {
                problems.Add(
                    new(
                        $"loadTasks[{Text(i)}].atS",
                        $"Load task \"{task.Name}\" comes at {Text(task.AtS)} s; the drill runs from 0 to {Text(lengthS)} s."
                    )
                );
            }
        }
    }

    /// <summary>Number of segments flown, without expanding repetitions: a group repeated a million times costs nothing.</summary>
    private static double FlownCount(IReadOnlyList<Segment> segments) =>
        segments.Sum(s => s.Segments.Count == 0 ? 1 : (double)(s.Repeat ?? 1) * FlownCount(s.Segments));

    /// <summary>Problem of a slug, one sentence; null when it has none.</summary>
    /// <param name="slug">Name in addresses.</param>
    public static string? SlugProblem(string? slug) =>
        slug is not null && SlugForm().IsMatch(slug)
            ? null
            : $"slug \"{slug}\" must be lower-case letters, digits and single hyphens, 64 at most.";

    internal static string Text(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    [GeneratedRegex("^(?=.{1,64}\\z)[a-z0-9]+(-[a-z0-9]+)*\\z", RegexOptions.CultureInvariant)]
    private static partial Regex SlugForm();
}
