using System.Collections.Immutable;
using System.Globalization;
using SchoolDrills.Contracts;

namespace SchoolDrills.Web.Grades;

/// <summary>All that is written in a grade: the whole drill and its segments by index. Parts without content are not held.</summary>
public sealed record GradeContent(GradePart Whole, ImmutableSortedDictionary<int, GradePart> Segments)
{
    public static readonly GradeContent Empty = new(GradePart.Empty, ImmutableSortedDictionary<int, GradePart>.Empty);

    public GradePart this[int segmentIndex] => Segments.GetValueOrDefault(segmentIndex, GradePart.Empty);

    public static GradeContent Of(GradeView? grade) =>
        grade is null
            ? Empty
            : grade.Segments.Aggregate(
                Empty with
                {
                    Whole = new GradePart(grade.Overall, grade.Comment ?? ""),
                },
                (content, segment) => content.With(segment.Index, new GradePart(segment.Grade, segment.Comment ?? ""))
            );

    public GradeContent With(int segmentIndex, GradePart part) =>
        this with
        {
            Segments = part.IsEmpty ? Segments.Remove(segmentIndex) : Segments.SetItem(segmentIndex, part),
        };

    /// <summary>As the page's script knows its rows.</summary>
    public IEnumerable<GradeRow> Rows =>
        Segments
            .Select(s => new GradeRow(s.Key.ToString(CultureInfo.InvariantCulture), s.Value.Grade, s.Value.Comment))
            .Prepend(new GradeRow(GradeRow.Whole, Whole.Grade, Whole.Comment));

    public bool Equals(GradeContent? other) => other is not null && Whole == other.Whole && Segments.SequenceEqual(other.Segments);

    public override int GetHashCode() => HashCode.Combine(Whole, Segments.Count);
}

/// <summary>A row of the sheet in the browser, which keeps what was typed until the server has it.</summary>
/// <param name="Row">Index of a segment, or <see cref="Whole"/>.</param>
/// <param name="Grade">Null where it was not touched.</param>
/// <param name="Comment">Null where it was not touched.</param>
public sealed record GradeRow(string Row, string? Grade, string? Comment)
{
    public const string Whole = "whole";
}
