using System.Globalization;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Grades;

/// <summary>What an instructor wrote, in the words of the school's scale, or the sentence that says why it cannot stand.</summary>
internal sealed record GradeWords(string Overall, IReadOnlyList<SegmentGrade> Segments, string? Comment, string? Refusal = null)
{
    private const int LongestComment = 8000,
        LongestSegmentComment = 2000;

    /// <param name="isDraft">A draft may leave the overall word open.</param>
    public static GradeWords Read(
        IReadOnlyList<GradeWord> scale,
        int segmentCount,
        string? overall,
        IReadOnlyList<SegmentGrade>? segments,
        string? comment,
        bool isDraft
    )
    {
        scale = [.. scale.Where(w => !w.Retired)];
        var words = string.Join(", ", scale.OrderBy(w => w.Order).Select(w => w.Slug));
        var isOpen = string.IsNullOrWhiteSpace(overall);
        var overallSlug = isOpen ? "" : SlugOf(scale, overall!);
        if (isOpen && !isDraft)
            return Refused($"A grade is signed with an overall word: one of {words}.");
        if (overallSlug is null)
            return Refused($"The overall grade '{overall}' is not of the school's scale: use one of {words}.");
        if (comment?.Length > LongestComment)
            return Refused($"The comment is longer than {LongestComment} characters.");

        var read = new SortedDictionary<int, SegmentGrade>();
        // JSON may hold null where the type says that there is none.
        foreach (var segment in (IEnumerable<SegmentGrade?>?)segments ?? [])
        {
            if (segment is null)
                return Refused("A grade in segments is null: leave it out, or give it an index and a grade.");
            if (segment.Index < 0 || segment.Index >= segmentCount)
                return Refused($"There is no segment {segment.Index}: the drill's segments are 0 to {segmentCount - 1}.");
            // A remark may stand on a segment that has no word of its own.
            var isRemark = string.IsNullOrWhiteSpace(segment.Grade) && Kept(segment.Comment) is not null;
            if ((isRemark ? "" : SlugOf(scale, segment.Grade)) is not { } slug)
                return Refused($"The grade '{segment.Grade}' of segment {segment.Index} is not of the school's scale: use one of {words}.");
            if (segment.Comment?.Length > LongestSegmentComment)
                return Refused($"The comment on segment {segment.Index} is longer than {LongestSegmentComment} characters.");
            if (!read.TryAdd(segment.Index, segment with { Grade = slug, Comment = Kept(segment.Comment) }))
                return Refused($"Segment {segment.Index} is graded twice.");
        }

        return new GradeWords(overallSlug, [.. read.Values], Kept(comment));
    }

    /// <summary>Null for what is blank.</summary>
    public static string? Kept(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();

    /// <summary>By slug, by the word as read, or by its place from the lowest.</summary>
    private static string? SlugOf(IReadOnlyList<GradeWord> scale, string? said)
    {
        var word = said?.Trim() ?? "";
        return scale
            .FirstOrDefault(w =>
                w.Slug.Equals(word, StringComparison.OrdinalIgnoreCase)
                || w.Word.Equals(word, StringComparison.OrdinalIgnoreCase)
                || w.Order.ToString(CultureInfo.InvariantCulture) == word
            )
            ?.Slug;
    }

    private static GradeWords Refused(string why) => new("", [], null, why);
}
