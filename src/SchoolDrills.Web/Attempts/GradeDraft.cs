using SchoolDrills.Contracts;

namespace SchoolDrills.Web.Attempts;

/// <summary>A grade while it is being written.</summary>
internal sealed class GradeDraft
{
    private readonly Dictionary<int, string> grades = [];
    private readonly Dictionary<int, string> comments = [];

    public GradeDraft(GradeView? saved)
    {
        if (saved is null) return;
        Revision = saved.Revision;
        Overall = saved.Overall;
        Comment = saved.Comment ?? "";
        foreach (var segment in saved.Segments)
        {
            this[segment.Index] = segment.Grade;
            SetComment(segment.Index, segment.Comment);
        }
    }

    /// <summary>Of the draft this was written over, 0 where none was seen: one that someone else saved meanwhile is not overwritten.</summary>
    public uint Revision { get; set; }

    public string Overall { get; set; } = "";

    public string Comment { get; set; } = "";

    /// <summary>The word given to a segment, empty where none is.</summary>
    public string this[int segmentIndex]
    {
        get => grades.GetValueOrDefault(segmentIndex, "");
        set => Put(grades, segmentIndex, value);
    }

    public string CommentOn(int segmentIndex) => comments.GetValueOrDefault(segmentIndex, "");

    public void SetComment(int segmentIndex, string? text) => Put(comments, segmentIndex, text);

    /// <summary>Segments without a word.</summary>
    public int Ungraded(int segmentCount) => segmentCount - grades.Count;

    public SaveGrade ToSave(bool sign) => new(Overall, Segments, Blank(Comment), sign, Revision);

    public AmendGrade ToAmend(string reason) => new(Overall, Segments, Blank(Comment), reason);

    // A comment waits for its word: the record knows no comment on an ungraded segment.
    private List<SegmentGrade> Segments => [.. grades.OrderBy(g => g.Key).Select(g => new SegmentGrade(g.Key, g.Value, Blank(CommentOn(g.Key))))];

    private static string? Blank(string text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();

    private static void Put(Dictionary<int, string> into, int index, string? value)
    {
        if (string.IsNullOrEmpty(value)) into.Remove(index);
        else into[index] = value;
    }
}
