using SchoolDrills.Web.Attempts;

namespace SchoolDrills.Web.Tests;

public sealed class GradeDraftTests
{
    [Fact]
    public void A_draft_starts_from_what_was_saved_and_sends_it_back_unchanged()
    {
        var saved = SampleSchool.Grade(signed: false);
        var sent = new GradeDraft(saved).ToSave(sign: false);
        Assert.Equal((saved.Overall, saved.Comment, false), (sent.Overall, sent.Comment, sent.Sign));
        Assert.Equal(saved.Segments, sent.Segments);
    }

    [Fact]
    public void Taking_a_word_back_leaves_the_segment_ungraded()
    {
        var draft = new GradeDraft(SampleSchool.Grade());
        draft[1] = "";
        Assert.Equal(4, draft.Ungraded(4));
        Assert.Empty(draft.ToSave(sign: true).Segments);
    }
}
