using SchoolDrills.Contracts;
using SchoolDrills.Web.Grades;

namespace SchoolDrills.Web.Tests.Grades;

public sealed class GradeDraftTests
{
    private static readonly GradingSettings Grading = new(Suggestions: new GradeSuggestions("competent", "developing", "not-yet"));

    [Fact]
    public void A_draft_starts_from_what_was_saved_and_sends_it_back_unchanged()
    {
        var saved = SampleSchool.Grade(signed: false);
        var sent = new GradeDraft(saved).ToSave(sign: false);
        Assert.Equal((saved.Overall, saved.Comment, false, saved.Revision), (sent.Overall, sent.Comment, sent.Sign, sent.Revision));
        Assert.Equal(saved.Segments, sent.Segments);
    }

    [Fact]
    public void A_comment_on_a_segment_without_a_word_is_kept_with_it()
    {
        var draft = new GradeDraft(null) { [2] = new GradePart(Comment: "Look here.") };
        Assert.Equal([new SegmentGrade(2, "", "Look here.")], draft.ToSave(sign: false).Segments);
        Assert.Equal(4, draft.Ungraded(4));
        draft[2] = draft[2] with { Grade = "competent" };
        Assert.Equal([new SegmentGrade(2, "competent", "Look here.")], draft.ToSave(sign: false).Segments);
        Assert.Equal(3, draft.Ungraded(4));
    }

    [Fact]
    public void A_word_taken_back_leaves_nothing_to_save()
    {
        var draft = new GradeDraft(null) { [1] = new GradePart("competent") };
        Assert.True(draft.IsUnsaved);
        draft[1] = draft[1] with { Grade = "" };
        Assert.False(draft.IsUnsaved);
        Assert.Empty(draft.ToSave(sign: false).Segments);
    }

    [Fact]
    public void Suggestions_fill_what_is_open_and_leave_what_was_given()
    {
        var draft = new GradeDraft(null) { [1] = new GradePart("confident") };
        draft.TakeSuggestions(SampleSchool.Report, Grading);
        // Met, not met, close, met; the whole not met.
        Assert.Equal(["competent", "confident", "developing", "competent"], Enumerable.Range(0, 4).Select(i => draft[i].Grade));
        Assert.Equal("not-yet", draft.Whole.Grade);
    }

    [Fact]
    public void What_two_instructors_wrote_at_once_is_merged_and_nothing_is_lost()
    {
        var before = View("", "", (0, "competent", null));
        var mine = new GradeDraft(before)
        {
            Whole = new GradePart(Comment: "Mine."),
            [0] = new GradePart("competent", "Smooth."),
            [1] = new GradePart("developing"),
            [2] = new GradePart("not-yet"),
        };
        var replaced = mine.Merge(View("competent", "Theirs.", (0, "competent", "Early."), (2, "confident", null)));

        Assert.Equal(new GradePart("competent", "Theirs. Mine."), mine.Whole);
        Assert.Equal(new GradePart("competent", "Early. Smooth."), mine[0]);
        Assert.Equal(("developing", "confident"), (mine[1].Grade, mine[2].Grade));
        Assert.Equal([(2, "not-yet")], replaced);
        Assert.True(mine.IsUnsaved);
        Assert.Equal(7u, mine.Revision);
    }

    [Fact]
    public void Who_wrote_nothing_takes_over_what_the_other_saved_as_it_is()
    {
        var draft = new GradeDraft(View("", "", (0, "competent", null)));
        Assert.Empty(draft.Merge(View("confident", "Theirs.", (3, "developing", null))));
        Assert.Equal(("confident", "", "developing"), (draft.Whole.Grade, draft[0].Grade, draft[3].Grade));
        Assert.False(draft.IsUnsaved);
    }

    [Fact]
    public void What_the_browser_kept_is_laid_over_the_draft_part_by_part()
    {
        var draft = new GradeDraft(View("competent", "Saved.", (0, "competent", "Saved too.")));
        draft.Recover([new("whole", null, "Typed."), new("0", "", null), new("2", "confident", null), new("no row", "competent", null)]);
        Assert.Equal(new GradePart("competent", "Typed."), draft.Whole);
        Assert.Equal(new GradePart("", "Saved too."), draft[0]);
        Assert.Equal(new GradePart("confident"), draft[2]);
        Assert.Equal([0, 2], draft.Content.Segments.Keys);
    }

    [Fact]
    public void What_was_written_while_a_save_was_under_way_stays_unsaved()
    {
        var draft = new GradeDraft(null) { [0] = new GradePart("competent") };
        var sent = draft.Content;
        draft[1] = new GradePart("developing");
        draft.Saved(View("", "", (0, "competent", null)), sent);
        Assert.True(draft.IsUnsaved);
        Assert.Equal(7u, draft.Revision);
    }

    private static GradeView View(string overall, string comment, params (int Index, string Grade, string? Comment)[] segments) =>
        SampleSchool.Grade(signed: false) with
        {
            Overall = overall,
            Comment = comment,
            Segments = [.. segments.Select(s => new SegmentGrade(s.Index, s.Grade, s.Comment))],
            Revision = 7,
        };
}
