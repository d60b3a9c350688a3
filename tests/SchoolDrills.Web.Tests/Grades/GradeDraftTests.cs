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
    public void A_remark_on_a_segment_without_a_word_is_kept_with_it()
    {
        var draft = new GradeDraft(null);
        draft.SetComment(2, "Look here.");
        Assert.Equal([new SegmentGrade(2, "", "Look here.")], draft.ToSave(sign: false).Segments);
        Assert.Equal(4, draft.Ungraded(4));
        draft[2] = "competent";
        Assert.Equal([new SegmentGrade(2, "competent", "Look here.")], draft.ToSave(sign: false).Segments);
        Assert.Equal(3, draft.Ungraded(4));
    }

    [Fact]
    public void Suggestions_fill_what_is_open_and_leave_what_was_given()
    {
        var draft = new GradeDraft(null) { [1] = "confident" };
        draft.TakeSuggestions(SampleSchool.Report, Grading);
        // Met, not met, close, met; the whole not met.
        Assert.Equal(["competent", "confident", "developing", "competent"], Enumerable.Range(0, 4).Select(i => draft[i]));
        Assert.Equal("not-yet", draft.Overall);
    }

    [Fact]
    public void What_two_instructors_wrote_at_once_is_put_together_and_nothing_is_lost()
    {
        var before = View("", "", (0, "competent", null));
        var mine = new GradeDraft(before)
        {
            Comment = "Mine.",
            [1] = "developing",
            [2] = "not-yet",
        };
        mine.SetComment(0, "Smooth.");
        var gaveWay = mine.Join(View("competent", "Theirs.", (0, "competent", "Early."), (2, "confident", null)));

        Assert.Equal(("competent", "Theirs. Mine."), (mine.Overall, mine.Comment));
        Assert.Equal(("competent", "developing", "confident"), (mine[0], mine[1], mine[2]));
        Assert.Equal("Early. Smooth.", mine.CommentOn(0));
        Assert.Equal([(2, "not-yet")], gaveWay);
        Assert.True(mine.IsUnsaved);
        Assert.Equal(7u, mine.Revision);
    }

    [Fact]
    public void Who_wrote_nothing_takes_over_what_the_other_saved_as_it_is()
    {
        var draft = new GradeDraft(View("", "", (0, "competent", null)));
        Assert.Empty(draft.Join(View("confident", "Theirs.", (3, "developing", null))));
        Assert.Equal(("confident", "", "developing"), (draft.Overall, draft[0], draft[3]));
        Assert.False(draft.IsUnsaved);
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
