using System.Globalization;
using System.Text;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Schools;

/// <summary>Reads a school's scale and phrases as sent, or says in a sentence why they cannot stand.</summary>
internal static class GradingSheet
{
    /// <summary>Words and phrases are given by a single digit.</summary>
    private const int Most = 9;

    private const int LongestWord = 40,
        LongestPhrase = 300;

    /// <param name="known">The scale as it stands.</param>
    /// <param name="used">Slugs of words that grades use.</param>
    public static (SchoolSettings? Settings, string? Refusal) Read(
        SchoolSettings sent,
        IReadOnlyList<GradeWord> known,
        IReadOnlyList<string> used
    )
    {
        if (sent.GradeScale is null || sent.Grading is null || sent.GradeScale.Any(w => w is null))
            return Refused("Send the whole of the settings: gradeScale and grading.");
        var scale = new List<GradeWord>();
        // A new word is sent under a name of the sender's choice, by which suggestions may already mean it.
        var slugs = new Dictionary<string, string>();
        foreach (var word in sent.GradeScale.OrderBy(w => w.Order))
        {
            var text = word.Word?.Trim() ?? "";
            if (text.Length is 0 or > LongestWord)
                return Refused($"A word of the scale has between one and {LongestWord} characters; '{text}' has not.");
            if (scale.Any(w => w.Word.Equals(text, StringComparison.OrdinalIgnoreCase)))
                return Refused($"'{text}' stands in the scale twice.");
            // Whatever has a slug keeps it, so that a renamed word is renamed on every grade.
            var slug = known.FirstOrDefault(w => w.Slug == word.Slug)?.Slug ?? Free(Slug(text), known.Concat(scale));
            if (scale.Any(w => w.Slug == slug))
                return Refused($"Two words of the scale are both '{slug}'.");
            if (!string.IsNullOrEmpty(word.Slug))
                slugs[word.Slug] = slug;
            scale.Add(new GradeWord(slug, text, scale.Count + 1, word.Retired));
        }

        var given = scale.Count(w => !w.Retired);
        if (given is < 2 or > Most)
            return Refused($"A scale has between two and {Most} words that are not retired; this one has {given}.");
        if (known.FirstOrDefault(w => used.Contains(w.Slug) && scale.All(s => s.Slug != w.Slug)) is { } missing)
            return Refused($"'{missing.Word}' stands on grades that were given: rename or retire it, it cannot be left out.");

        var phrases = sent.Grading.QuickPhrases.Select(p => p?.Trim() ?? "").Where(p => p.Length > 0).ToList();
        if (phrases.Count > Most)
            return Refused($"There is room for {Most} quick phrases, one for each digit.");
        if (phrases.Find(p => p.Length > LongestPhrase) is { } lengthy)
            return Refused($"The phrase '{lengthy[..40]}…' is longer than {LongestPhrase} characters.");
        var suggestions = sent.Grading.Suggestions;
        foreach (var said in (string?[])[suggestions?.Met, suggestions?.Close, suggestions?.NotMet])
        {
            if (Final(said) is { } slug && !scale.Any(w => w.Slug == slug && !w.Retired))
                return Refused($"'{said}' cannot be suggested: it is not a word of the scale, or retired.");
        }

        var grading = sent.Grading with
        {
            QuickPhrases = phrases,
            Suggestions = suggestions is null
                ? null
                : new GradeSuggestions(Final(suggestions.Met), Final(suggestions.Close), Final(suggestions.NotMet)),
        };
        return (new SchoolSettings(scale, grading), null);

        string? Final(string? said) => string.IsNullOrEmpty(said) ? null : slugs.GetValueOrDefault(said, said);
    }

    /// <summary>Letters and digits of any script, the rest hyphens.</summary>
    private static string Slug(string word)
    {
        var slug = new StringBuilder();
        foreach (var c in word.ToLower(CultureInfo.InvariantCulture))
        {
            if (char.IsLetterOrDigit(c))
                slug.Append(c);
            else if (slug.Length > 0 && slug[^1] != '-')
                slug.Append('-');
        }

        var text = slug.ToString().Trim('-');
        return text.Length == 0 ? "word" : text;
    }

    private static string Free(string slug, IEnumerable<GradeWord> taken)
    {
        var slugs = taken.Select(w => w.Slug).ToHashSet();
        return slugs.Contains(slug) ? Enumerable.Range(2, slugs.Count + 1).Select(n => $"{slug}-{n}").First(s => !slugs.Contains(s)) : slug;
    }

    private static (SchoolSettings?, string?) Refused(string why) => (null, why);
}
