using System.Globalization;
using System.Text.RegularExpressions;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Drills;

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
    public static IReadOnlyList<string> Of(DrillTemplate template, DrillEntry entry)
    {
        var problems = new List<string>();
        OfTexts(template, problems);
        OfEntry(entry, problems);
        if (template.Segments.Count == 0)
            problems.Add("The drill has no segments.");
        SegmentProblems.Of(template.Segments, "segment ", 1, problems);
        // Only segments without problems can be added up.
        if (problems.Count > 0)
            return problems;
        if (FlownCount(template.Segments) is var count and > TemplateLimits.Segments)
            return [$"With repetitions the drill has {Text(count)} segments; the limit is {Text(TemplateLimits.Segments)}."];
        OfWhole(template, entry, problems);
        return problems;
    }

    private static void OfTexts(DrillTemplate template, List<string> problems)
    {
        if (template.SchemaVersion != 1)
            problems.Add($"schemaVersion is {Text(template.SchemaVersion)}; this program reads version 1.");
        if (SlugProblem(template.Slug) is { } slugProblem)
            problems.Add(slugProblem);
        if (SlugProblem(template.StandardSlug) is not null)
            problems.Add($"standardSlug \"{template.StandardSlug}\" must be the slug of a tolerance standard.");
        if (template.Version < 0)
            problems.Add("version must not be negative.");
        Name("title", template.Title);
        Words("purpose", template.Purpose);
        if (template.Trains is { } trains)
            Words("trains", trains);
        foreach (var text in template.Prerequisites)
            Words("each prerequisite", text);
        foreach (var text in template.CommonErrors)
            Words("each common error", text);
        foreach (var text in template.Sources)
            Words("each source", text);
        if (template.Checks.Count > TemplateLimits.Calls)
            problems.Add($"There are {Text(template.Checks.Count)} checks; the limit is {Text(TemplateLimits.Calls)}.");
        if (template.LoadTasks.Count > TemplateLimits.Calls)
            problems.Add($"There are {Text(template.LoadTasks.Count)} load tasks; the limit is {Text(TemplateLimits.Calls)}.");
        for (var i = 0; i < template.Checks.Count; i++)
        {
            Name($"check {Text(i + 1)}: its name", template.Checks[i].Name);
            if (template.Checks[i].Items.Count == 0)
                problems.Add($"check {Text(i + 1)} has no items.");
            foreach (var item in template.Checks[i].Items)
                Words($"check {Text(i + 1)}: each item", item);
        }

        for (var i = 0; i < template.LoadTasks.Count; i++)
        {
            Name($"load task {Text(i + 1)}: its name", template.LoadTasks[i].Name);
            Words($"load task {Text(i + 1)}: its script", template.LoadTasks[i].Script);
            if (template.LoadTasks[i].ExpectedAnswer is { } answer)
                Words($"load task {Text(i + 1)}: its answer", answer);
        }

        void Name(string what, string text) => Length(what, text, TemplateLimits.NameLength);
        void Words(string what, string text) => Length(what, text, TemplateLimits.TextLength);
        void Length(string what, string text, int limit)
        {
            if (string.IsNullOrWhiteSpace(text))
                problems.Add($"{what} must not be empty.");
            else if (TextProblem(text, limit) is { } problem)
                problems.Add($"{what} {problem}.");
        }
    }

    /// <summary>Problem of a text that may be empty; null when it has none.</summary>
    internal static string? TextProblem(string text, int limit) =>
        text.Length > limit ? $"has {Text(text.Length)} characters; the limit is {Text(limit)}"
        // Control characters, the null above all, cannot be printed and not every store keeps them.
        : text.Any(c => char.IsControl(c) && c is not ('\n' or '\t')) ? "has a control character"
        : null;

    private static void OfEntry(DrillEntry entry, List<string> problems)
    {
        if (!(entry.HeadingMagDeg is > 0 and <= 360))
            problems.Add($"The entry heading is {Text(entry.HeadingMagDeg)}; it must be above 0 and at most 360.");
        if (!(entry.AltitudeFt is >= TemplateLimits.LowestAltitudeFt and <= TemplateLimits.HighestAltitudeFt))
        {
            problems.Add(
                $"The entry altitude is {Text(entry.AltitudeFt)} ft; it must be "
                    + $"{Text(TemplateLimits.LowestAltitudeFt)} to {Text(TemplateLimits.HighestAltitudeFt)} ft."
            );
        }

        if (!(entry.AirspeedKt is >= TemplateLimits.LowestAirspeedKt and <= TemplateLimits.HighestAirspeedKt))
        {
            problems.Add(
                $"The entry airspeed is {Text(entry.AirspeedKt)} kt; it must be "
                    + $"{Text(TemplateLimits.LowestAirspeedKt)} to {Text(TemplateLimits.HighestAirspeedKt)} kt."
            );
        }
    }

    private static void OfWhole(DrillTemplate template, DrillEntry entry, List<string> problems)
    {
        var (lengthS, altitudeFt, airspeedKt) = (0.0, entry.AltitudeFt, entry.AirspeedKt);
        foreach (var (name, segment) in FlatSegments.Of(template))
        {
            lengthS += SegmentTimes.Of(segment)[0].S;
            altitudeFt += segment.ClimbFt ?? 0;
            airspeedKt += segment.SpeedChangeKt ?? 0;
            var where = name.Length == 0 ? "A segment" : $"\"{name}\"";
            if (altitudeFt is < TemplateLimits.LowestAltitudeFt or > TemplateLimits.HighestAltitudeFt)
            {
                problems.Add(
                    $"{where} ends at {Text(altitudeFt)} ft; the limits are "
                        + $"{Text(TemplateLimits.LowestAltitudeFt)} and {Text(TemplateLimits.HighestAltitudeFt)} ft."
                );
            }

            if (airspeedKt is < TemplateLimits.LowestAirspeedKt or > TemplateLimits.HighestAirspeedKt)
            {
                problems.Add(
                    $"{where} ends at {Text(airspeedKt)} kt; the limits are "
                        + $"{Text(TemplateLimits.LowestAirspeedKt)} and {Text(TemplateLimits.HighestAirspeedKt)} kt."
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
                    $"{where}: {Text(segment.TurnRateDegPerS ?? TurnGeometry.StandardRateDegPerS)}°/s at "
                        + $"{Text(airspeedKt)} kt needs {Text(bankDeg)}° of bank; the limit is {Text(TemplateLimits.BankDeg)}°."
                );
            }
            // The first problem is enough: the others follow from it.
            if (problems.Count > 0)
                return;
        }

        if (lengthS > TemplateLimits.DurationS)
            problems.Add($"The drill takes {Text(lengthS)} s; the limit is {Text(TemplateLimits.DurationS)} s.");
        foreach (var check in template.Checks)
        {
            if (!(check.FromS >= 0 && check.WindowS > 0 && check.FromS + check.WindowS <= lengthS + DrillModel.AgreementS))
            {
                problems.Add(
                    $"Check \"{check.Name}\" runs from {Text(check.FromS)} s for {Text(check.WindowS)} s; the "
                        + $"drill runs from 0 to {Text(lengthS)} s."
                );
            }
        }

        foreach (var task in template.LoadTasks)
        {
            if (!(task.AtS >= 0 && task.AtS <= lengthS))
                problems.Add($"Load task \"{task.Name}\" comes at {Text(task.AtS)} s; the drill runs from 0 to {Text(lengthS)} s.");
        }
    }

    /// <summary>Number of segments flown, without expanding repetitions: a group repeated a million times costs nothing.</summary>
    private static double FlownCount(IReadOnlyList<Segment> segments) =>
        segments.Sum(s => s.Segments.Count == 0 ? 1 : (double)(s.Repeat ?? 1) * FlownCount(s.Segments));

    /// <summary>Problem of a slug; null when it has none.</summary>
    internal static string? SlugProblem(string? slug) =>
        slug is not null && SlugForm().IsMatch(slug)
            ? null
            : $"slug \"{slug}\" must be lower-case letters, digits and single hyphens, 64 at most.";

    internal static string Text(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    [GeneratedRegex("^(?=.{1,64}\\z)[a-z0-9]+(-[a-z0-9]+)*\\z", RegexOptions.CultureInvariant)]
    private static partial Regex SlugForm();
}
