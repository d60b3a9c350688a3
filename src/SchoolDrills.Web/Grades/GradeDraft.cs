using System.Globalization;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Grades;

/// <summary>
/// A grade while it is being written: one field for each word and each remark, so that what two instructors write at once can be put
/// together field by field.
/// </summary>
public sealed class GradeDraft
{
    private const string OverallField = "overall",
        CommentField = "comment";

    private Dictionary<string, string> now;

    /// <summary>As last saved, by whomever.</summary>
    private Dictionary<string, string> seen;

    public GradeDraft(GradeView? saved)
    {
        now = FieldsOf(saved);
        seen = new(now);
        Revision = saved?.Revision ?? 0;
    }

    /// <summary>Of the draft this was written over, 0 where none was seen: one that someone else saved meanwhile is not overwritten.</summary>
    public uint Revision { get; private set; }

    public string Overall
    {
        get => now.GetValueOrDefault(OverallField, "");
        set => Put(OverallField, value);
    }

    public string Comment
    {
        get => now.GetValueOrDefault(CommentField, "");
        set => Put(CommentField, value);
    }

    /// <summary>Something is written that was not saved yet.</summary>
    public bool IsUnsaved => now.Count != seen.Count || now.Any(f => seen.GetValueOrDefault(f.Key) != f.Value);

    /// <summary>Every field by its name, as the page keeps them against a lost connection.</summary>
    public IReadOnlyDictionary<string, string> Fields => new Dictionary<string, string>(now);

    /// <summary>The word given to a segment, empty where none is.</summary>
    public string this[int segmentIndex]
    {
        get => now.GetValueOrDefault(WordOf(segmentIndex), "");
        set => Put(WordOf(segmentIndex), value);
    }

    public static string WordOf(int segmentIndex) => "g" + segmentIndex.ToString(CultureInfo.InvariantCulture);

    public static string RemarkOf(int segmentIndex) => "c" + segmentIndex.ToString(CultureInfo.InvariantCulture);

    public string CommentOn(int segmentIndex) => now.GetValueOrDefault(RemarkOf(segmentIndex), "");

    public void SetComment(int segmentIndex, string? text) => Put(RemarkOf(segmentIndex), text);

    /// <summary>Writes fields that a page kept when its connection broke.</summary>
    public void Recover(IReadOnlyDictionary<string, string> kept)
    {
        foreach (var (field, text) in kept)
            Put(field, text);
    }

    /// <summary>Segments without a word.</summary>
    public int Ungraded(int segmentCount) => segmentCount - now.Keys.Count(IsWord);

    /// <summary>Gives every segment that has no word, and the whole, the one that fits the engine's verdict; those without a verdict stay open.</summary>
    public void TakeSuggestions(ScoreReport report, GradingSettings grading)
    {
        foreach (var segment in report.Segments.Where(s => this[s.Index].Length == 0))
            this[segment.Index] = GradeSuggestion.For(segment.Verdict, grading) ?? "";
        if (Overall.Length == 0)
            Overall = GradeSuggestion.For(report.Overall.Verdict, grading) ?? "";
    }

    /// <summary>Notes what was saved; what was written while it was on its way stays unsaved.</summary>
    public void Saved(GradeView kept, IReadOnlyDictionary<string, string> sent)
    {
        seen = new(sent);
        Revision = kept.Revision;
    }

    /// <summary>
    /// Puts together what was written here with what someone else saved since: each has the fields he alone changed, remarks of both
    /// stand one after the other, and of two words for one segment the saved one stays.
    /// </summary>
    /// <returns>The words written here that gave way: the segment (null for the whole) and the word's slug.</returns>
    public IReadOnlyList<(int? Segment, string Word)> Join(GradeView? theirs)
    {
        var saved = FieldsOf(theirs);
        var gaveWay = new List<(int?, string)>();
        var joined = new Dictionary<string, string>(saved);
        foreach (var field in now.Keys.Union(seen.Keys).ToList())
        {
            var (mine, before, their) = (
                now.GetValueOrDefault(field, ""),
                seen.GetValueOrDefault(field, ""),
                saved.GetValueOrDefault(field, "")
            );
            if (mine == before || mine == their)
                continue;
            if (their == before)
                joined[field] = mine;
            else if (!IsWord(field) && field != OverallField)
                joined[field] =
                    mine.Length == 0 || their.Contains(mine, StringComparison.Ordinal) ? their
                    : their.Length == 0 ? mine
                    : $"{their} {mine}";
            else if (their.Length == 0)
                joined[field] = mine;
            else if (mine.Length > 0)
                gaveWay.Add((field == OverallField ? null : int.Parse(field[1..], CultureInfo.InvariantCulture), mine));
        }

        now = joined.Where(f => f.Value.Length > 0).ToDictionary();
        seen = saved;
        Revision = theirs?.Revision ?? 0;
        return gaveWay;
    }

    public SaveGrade ToSave(bool sign) => new(Overall, Segments, Blank(Comment), sign, Revision);

    public AmendGrade ToAmend(string reason) => new(Overall, Segments, Blank(Comment), reason);

    private List<SegmentGrade> Segments =>
        [
            .. now
                .Keys.Where(f => f is not (OverallField or CommentField))
                .Select(f => int.Parse(f[1..], CultureInfo.InvariantCulture))
                .Distinct()
                .Order()
                .Select(i => new SegmentGrade(i, this[i], Blank(CommentOn(i))))
                .Where(s => s.Grade.Length > 0 || s.Comment is not null),
        ];

    private static bool IsWord(string field) => field.StartsWith('g');

    private static string? Blank(string text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();

    private static Dictionary<string, string> FieldsOf(GradeView? grade)
    {
        var fields = new Dictionary<string, string>();
        if (grade is null)
            return fields;
        Add(OverallField, grade.Overall);
        Add(CommentField, grade.Comment);
        foreach (var segment in grade.Segments)
        {
            Add(WordOf(segment.Index), segment.Grade);
            Add(RemarkOf(segment.Index), segment.Comment);
        }

        return fields;

        void Add(string field, string? text)
        {
            if (!string.IsNullOrEmpty(text))
                fields[field] = text;
        }
    }

    private void Put(string field, string? value)
    {
        if (string.IsNullOrEmpty(value))
            now.Remove(field);
        else
            now[field] = value;
    }
}
