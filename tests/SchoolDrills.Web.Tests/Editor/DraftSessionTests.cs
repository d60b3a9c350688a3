using System.Net;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Drills.Editing;
using SchoolDrills.Web.Editor;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Tests.Editor;

public sealed class DraftSessionTests
{
    private static readonly SchoolWords Words = new(new SchoolTime("Pacific/Auckland", new PageTest.FixedClock(SampleSchool.Now)));

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static DrillDraft Draft(DrillTemplate template, int revision, string by = "Ilse Farrow") =>
        new(template, revision, SampleSchool.Now, by, [], 1);

    private static DraftSession Begun() => new(SampleSchool.Template, Draft(SampleSchool.Template, 3));

    private static DrillTemplate WithTurn(DrillTemplate template, double? turnDeg) =>
        SegmentEdits.Replace(template, "segments[0]", template.Segments[0] with { TurnDeg = turnDeg }).Template;

    private static SchoolApi MeetsKiri(DrillTemplate theirs) =>
        new SchoolApi()
            .Refuse("PUT drills/two-turns/draft", HttpStatusCode.PreconditionFailed, "Kiri Tane saved this draft meanwhile.")
            .Answer("GET drills/two-turns/draft", Draft(theirs, 4, "Kiri Tane"));

    [Fact]
    public async Task Somebody_elses_change_of_another_part_is_put_together_with_ones_own()
    {
        var api = MeetsKiri(SampleSchool.Template with { Title = "Two turns" });
        var session = Begun();
        session.Change(WithTurn(session.Now, 90), "turn");
        api.AfterRefusing("PUT drills/two-turns/draft", Draft(session.Now, 5));
        await session.SaveAsync(api.Client, Words, Cancel);

        Assert.Equal(("Two turns", 90), (session.Now.Title, session.Now.Segments[0].TurnDeg));
        Assert.False(session.IsUnsaved);
        Assert.Equal(
            "Kiri Tane saved this draft at 10:00. Title: “Two climbing turns” is now “Two turns”. Both drafts are put together.",
            session.News
        );
        Assert.Equal("Two climbing turns", Undone(session).Title);
    }

    [Fact]
    public async Task A_part_changed_by_both_waits_for_a_person_and_nothing_is_saved_before()
    {
        var api = MeetsKiri(WithTurn(SampleSchool.Template, -90));
        var session = Begun();
        session.Change(WithTurn(session.Now, 90), "turn");

        await session.SaveAsync(api.Client, Words, Cancel);

        var part = Assert.Single(session.Conflict!.Parts);
        Assert.Equal(("segment 1, turn", "right 90°", "left 90°"), (part.Part, part.Mine, part.Theirs));
        Assert.Single(api.Asked, a => a.StartsWith("PUT", StringComparison.Ordinal));
        await session.SaveAsync(api.Client, Words, Cancel);
        Assert.Single(api.Asked, a => a.StartsWith("PUT", StringComparison.Ordinal));

        Assert.False(session.Settle());
        session.Conflict.Chosen[part.Path] = MergeSide.Mine;
        Assert.True(session.Settle());
        Assert.Equal(90, session.Now.Segments[0].TurnDeg);
        Assert.True(session.IsUnsaved);
    }

    [Fact]
    public async Task A_draft_that_was_published_meanwhile_goes_on_as_a_new_one()
    {
        var api = new SchoolApi().Refuse("PUT drills/two-turns/draft", HttpStatusCode.PreconditionFailed, "There is no draft.");
        var session = Begun();
        session.Change(WithTurn(session.Now, 90), "turn");
        api.AfterRefusing("PUT drills/two-turns/draft", Draft(session.Now, 1));

        await session.SaveAsync(api.Client, Words, Cancel);

        Assert.StartsWith("The draft was published or discarded meanwhile", session.News, StringComparison.Ordinal);
        Assert.False(session.IsUnsaved);
    }

    private static DrillTemplate Undone(DraftSession session)
    {
        session.Undo();
        return session.Now;
    }
}
