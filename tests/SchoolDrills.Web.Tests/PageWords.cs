using System.Reflection.Emit;
using System.Text.RegularExpressions;
using AngleSharp.Dom;
using AngleSharp.Html.Parser;

namespace SchoolDrills.Web.Tests;

/// <summary>A key that a page looks up, with how many values are put into it; no key where it is put together at run time.</summary>
internal sealed record UsedKey(string Room, string Where, string? Key, int? Values);

/// <summary>What the pages say: the keys they look up, and the words that stand in them without one.</summary>
internal static partial class PageWords
{
    /// <summary>CSS classes that are handed to a method.</summary>
    private static readonly string[] ClassNames = ["note left", "note right", "name chosen", "mark out", "num unit"];

    /// <summary>Parts between " | " and the end say which of two meanings is meant.</summary>
    public static string TextOf(string key) => key.Split(" | ")[0];

    public static IEnumerable<UsedKey> Keys(CompiledMethod method)
    {
        for (var i = 0; i < method.Steps.Count; i++)
        {
            if (method.Steps[i].Calls("Words", "get_T"))
                yield return new(method.Room, method.Name, method.Steps[i + 1].Text, Values(method.Steps, i + 2));
            if (method.Steps[i].Calls("Figures", "Count"))
            {
                yield return new(method.Room, method.Name, Prefixed("1 ", method.Steps[i - 2].Text), null);
                yield return new(method.Room, method.Name, Prefixed("{0} ", method.Steps[i - 1].Text), 1);
            }
        }
    }

    /// <summary>How many values a key's text has room for.</summary>
    public static int Places(string key) =>
        PlaceRegex().Matches(key).Select(m => int.Parse(m.Groups[1].ValueSpan, provider: null) + 1).DefaultIfEmpty(0).Max();

    /// <summary>Words in markup and in attributes that a person reads or hears, written where they are used.</summary>
    public static IEnumerable<string> Unkept(CompiledMethod method) =>
        Enumerable.Range(1, Math.Max(0, method.Steps.Count - 1)).SelectMany(i => UnkeptAt(method.Steps, i));

    /// <summary>Texts that read like a sentence's part and are not looked up, wherever they stand in the code.</summary>
    public static IEnumerable<string> Sentences(CompiledMethod method) =>
        Enumerable
            .Range(0, IsNotSaid(method) ? 0 : method.Steps.Count)
            .Where(i => IsSentence(method.Steps, i))
            .Select(i => method.Steps[i].Text!);

    private static IEnumerable<string> UnkeptAt(IReadOnlyList<Step> steps, int i) =>
        steps[i].Calls("RenderTreeBuilder", "AddMarkupContent") ? InMarkup(steps[i - 1].Text ?? "")
        : steps[i].Calls("RenderTreeBuilder", "AddContent") && HasWords(steps[i - 1].Text) ? [steps[i - 1].Text!]
        : steps[i].Text is { } name
        && IsSeen(name)
        && steps[i - 1].Number is not null
        && !steps[i + 1].Calls("RenderTreeBuilder", "OpenElement")
            ? InValue(steps, i + 1).Select(t => $"{name}=\"{t}\"")
        : [];

    private static bool IsSentence(IReadOnlyList<Step> steps, int i) =>
        steps[i].Text is { } text
        && TwoWordsRegex().IsMatch(text)
        && !text.Contains('<', StringComparison.Ordinal)
        && !IsStyle(text)
        && !text.Contains("MMM", StringComparison.Ordinal)
        && !ClassNames.Contains(text)
        && !(i + 1 < steps.Count && steps[i + 1].Calls("String", "op_Equality"))
        && !(i > 0 && steps[i - 1].Calls("Words", "get_T"))
        && !steps.Take(i).TakeLast(6).Any(s => IsLook(s.Text))
        && !steps.Skip(i + 1).Take(2).Any(s => s.Calls("RenderTreeBuilder", "AddMarkupContent") || s.Calls("Figures", "Count"))
        && !steps.Skip(i + 1).Take(6).Any(s => s.Code == OpCodes.Throw);

    /// <summary>Names that are replaced by words, roles as lists have them, keys of the keyboard, fonts, and what browsers read.</summary>
    private static bool IsNotSaid(CompiledMethod method) =>
        method.Name.EndsWith(".PrintMembers", StringComparison.Ordinal)
        || method.Name.EndsWith(".Css", StringComparison.Ordinal)
        || method.Name.EndsWith("ProblemWords..cctor", StringComparison.Ordinal)
        || method.Name.EndsWith("StandardEditorPage..cctor", StringComparison.Ordinal)
        || method.Name.EndsWith("PersonDraft..cctor", StringComparison.Ordinal)
        || method.Name.EndsWith("KeysHelp..ctor", StringComparison.Ordinal)
        || method.Name.Contains("AppTheme", StringComparison.Ordinal)
        || method.Name.Contains("SecurityHeaders", StringComparison.Ordinal)
        || method.Name.Contains("HostCookies", StringComparison.Ordinal)
        || method.Name.Contains("DrillSchedule", StringComparison.Ordinal);

    private static bool IsStyle(string text) =>
        text.Contains("@media", StringComparison.Ordinal)
        || text.Contains("@import", StringComparison.Ordinal)
        || text.Contains("layer(", StringComparison.Ordinal)
        || text.Contains("calc(", StringComparison.Ordinal);

    private static bool IsLook(string? attribute) => attribute is "class" or "Class" or "style" or "Style" or "Css" or "d";

    private static string? Prefixed(string prefix, string? text) => text is null ? null : prefix + text;

    private static int? Values(IReadOnlyList<Step> steps, int at) =>
        steps[at].Called is not null ? 0
        : steps[at].Number is { } n && steps[at + 1].Code == OpCodes.Newarr ? n
        : null;

    private static IEnumerable<string> InValue(IReadOnlyList<Step> steps, int from) =>
        Enumerable
            .Range(from, steps.Count - from)
            .TakeWhile(i => steps[i].Called?.Name is not ("AddAttribute" or "AddComponentParameter"))
            .Where(i => HasWords(steps[i].Text) && !steps[i - 1].Calls("Words", "get_T"))
            .Select(i => steps[i].Text!);

    private static IEnumerable<string> InMarkup(string markup)
    {
        if (!markup.Contains('<', StringComparison.Ordinal))
            return HasWords(markup) ? [markup.Trim()] : [];
        var body = new HtmlParser().ParseDocument(markup).Body!;
        return body.Descendants<IText>()
            .Where(t => t.ParentElement?.LocalName is not ("code" or "kbd"))
            .Select(t => t.Data.Trim())
            .Where(HasWords)
            .Concat(
                body.Descendants<IElement>()
                    .SelectMany(e => e.Attributes)
                    .Where(a => IsSeen(a.Name) && HasWords(a.Value))
                    .Select(a => $"{a.Name}=\"{a.Value}\"")
            );
    }

    private static bool HasWords(string? text) => text is not null and not "SchoolDrills" && LettersRegex().IsMatch(text) && !IsStyle(text);

    private static bool IsSeen(string attribute) =>
        attribute
            is "aria-label"
                or "data-label"
                or "aria-description"
                or "aria-roledescription"
                or "aria-valuetext"
                or "title"
                or "placeholder"
                or "alt"
                or "Title"
                or "Label"
                or "Placeholder"
                or "HelperText"
                or "Text"
                or "Sentence"
                or "Caption"
                or "Note";

    [GeneratedRegex(@"\p{L}{2}")]
    private static partial Regex LettersRegex();

    [GeneratedRegex(@"\p{L}{2,}[,;:]? \p{L}+|^\p{Lu}\p{Ll}+[ .:]|^[ ,;]+(?!kt|NM|ft|fpm|hPa)\p{L}{2,}")]
    private static partial Regex TwoWordsRegex();

    [GeneratedRegex(@"\{(\d+)\}")]
    private static partial Regex PlaceRegex();
}
