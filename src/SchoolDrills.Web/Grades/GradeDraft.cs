using System.Globalization;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Grades;

/// <summary>A grade while it is being written, put together part by part with what another instructor saves meanwhile.</summary>
public sealed class GradeDraft
{
    /// <summary>As last saved, by anybody.</summary>
    private GradeContent saved;

    public GradeDraft(GradeView? grade)
    {
        Content = saved = GradeContent.Of(grade);
        Revision = grade?.Revision ?? 0;
    }

    public GradeContent Content { get; private set; }

    /// <summary>
    /// Of the draft this was written over, 0 where none was seen: one that someone else saved meanwhile is not overwritten.
    /// </summary>
    public uint Revision { get; private set; }

    public GradePart Whole
    {
        get => Content.Whole;
        set => Content = Content with { Whole = value };
    }

    /// <summary>Something is written that was not saved yet.</summary>
    public bool IsUnsaved => Content != saved;

    public GradePart this[int segmentIndex]
    {
        get => Content[segmentIndex];
        set => Content = Content.With(segmentIndex, value);
    }

    /// <summary>Takes up what the browser kept when the connection broke.</summary>
    public void Recover(IEnumerable<GradeRow> rows)
    {
        foreach (var row in rows)
        {
            if (row.Row == GradeRow.Whole)
                Whole = Filled(Whole, row);
            else if (int.TryParse(row.Row, CultureInfo.InvariantCulture, out var index))
                this[index] = Filled(this[index], row);
        }

        static GradePart Filled(GradePart part, GradeRow row) => new(row.Grade ?? part.Grade, row.Comment ?? part.Comment);
    }

    /// <summary>Segments without a word.</summary>
    public int Ungraded(int segmentCount) => segmentCount - Content.Segments.Values.Count(part => part.Grade.Length > 0);

    /// <summary>
    /// Gives every segment without a word, and the whole, the one that fits the engine's verdict; those without a verdict stay open.
    /// </summary>
    public void TakeSuggestions(ScoreReport report, GradingSettings grading)
    {
        foreach (var segment in report.Segments)
            this[segment.Index] = Suggested(this[segment.Index], segment.Verdict);
        Whole = Suggested(Whole, report.Overall.Verdict);

        GradePart Suggested(GradePart part, Verdict verdict) =>
            part.Grade.Length > 0 ? part : part with { Grade = GradeSuggestion.For(verdict, grading) ?? "" };
    }

    /// <summary>Notes what was saved; what was written while it was on its way stays unsaved.</summary>
    public void Saved(GradeView kept, GradeContent sent)
    {
        saved = sent;
        Revision = kept.Revision;
    }

    /// <summary>
    /// Merges with what someone else saved since: each keeps what he alone changed, comments of both stand one after the other, and of
    /// two words for one segment the saved one stays.
    /// </summary>
    /// <returns>The words written here that gave way: the segment (null for the whole) and the word's slug.</returns>
    public IReadOnlyList<(int? Segment, string Word)> Merge(GradeView? theirs)
    {
        var (mine, before, after) = (Content, saved, GradeContent.Of(theirs));
        var merged = after with { Whole = mine.Whole.MergeInto(after.Whole, before.Whole) };
        foreach (var index in mine.Segments.Keys.Union(before.Segments.Keys))
            merged = merged.With(index, mine[index].MergeInto(after[index], before[index]));

        var replaced = new List<(int? Segment, string Word)>();
        Note(null, mine.Whole, before.Whole, merged.Whole);
        foreach (var (index, part) in mine.Segments)
            Note(index, part, before[index], merged[index]);
        (Content, saved, Revision) = (merged, after, theirs?.Revision ?? 0);
        return replaced;

        void Note(int? segment, GradePart written, GradePart seen, GradePart kept)
        {
            if (written.Grade.Length > 0 && written.Grade != seen.Grade && written.Grade != kept.Grade)
                replaced.Add((segment, written.Grade));
        }
    }

    public SaveGrade ToSave(bool sign) => new(Whole.Grade, Segments, Blank(Whole.Comment), sign, Revision);

    public AmendGrade ToAmend(string reason) => new(Whole.Grade, Segments, Blank(Whole.Comment), reason);

    private List<SegmentGrade> Segments =>
        [
            .. Content
                .Segments.Select(s => new SegmentGrade(s.Key, s.Value.Grade, Blank(s.Value.Comment)))
                .Where(s => s.Grade.Length > 0 || s.Comment is not null),
        ];

    private static string? Blank(string text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
