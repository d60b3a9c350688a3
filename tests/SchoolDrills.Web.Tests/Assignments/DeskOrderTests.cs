using SchoolDrills.Contracts;
using SchoolDrills.Web.Assignments;
using static SchoolDrills.Web.Tests.SampleSchool;

namespace SchoolDrills.Web.Tests.Assignments;

public sealed class DeskOrderTests
{
    private static readonly DateOnly Today = new(2026, 3, 3);

    [Fact]
    public void What_is_scored_and_not_signed_comes_first_then_unscorable_overdue_and_due_soon()
    {
        Guid a = Guid.NewGuid(),
            b = Guid.NewGuid(),
            c = Guid.NewGuid(),
            d = Guid.NewGuid();
        var items = DeskOrder.Of(
            [Assignment("open", Today.AddDays(2), a), Assignment("overdue", Today.AddDays(-1), b)],
            [Attempt(AttemptStatus.Unscorable, id: Guid.NewGuid(), assignmentId: c), Attempt(id: Guid.NewGuid(), assignmentId: d)],
            Today
        );
        Assert.Equal([DeskReason.ToGrade, DeskReason.Unscorable, DeskReason.Overdue, DeskReason.DueSoon], items.Select(i => i.Reason));
    }

    [Fact]
    public void The_recording_that_has_waited_longest_is_graded_first()
    {
        Guid early = Guid.NewGuid(),
            late = Guid.NewGuid();
        var items = DeskOrder.Of(
            [],
            [Attempt(id: late, assignmentId: Guid.NewGuid(), hoursAgo: 1), Attempt(id: early, assignmentId: Guid.NewGuid(), hoursAgo: 30)],
            Today
        );
        Assert.Equal([early, late], items.Select(i => i.Attempt!.AttemptId));
    }

    [Fact]
    public void A_better_recording_for_the_same_assignment_takes_the_unscorable_one_off_the_desk()
    {
        var items = DeskOrder.Of(
            [],
            [
                Attempt(AttemptStatus.Unscorable, id: Guid.NewGuid(), hoursAgo: 5),
                Attempt(gradeState: "signed", id: Guid.NewGuid(), hoursAgo: 2),
            ],
            Today
        );
        Assert.Empty(items);
    }

    [Fact]
    public void A_draft_grade_stays_on_the_desk_and_a_signed_one_leaves_it()
    {
        var items = DeskOrder.Of(
            [],
            [
                Attempt(gradeState: "draft", id: Guid.NewGuid(), assignmentId: Guid.NewGuid()),
                Attempt(gradeState: "signed", id: Guid.NewGuid(), assignmentId: Guid.NewGuid()),
            ],
            Today
        );
        Assert.Equal("draft", Assert.Single(items).Attempt!.GradeState);
    }

    [Fact]
    public void What_falls_due_after_a_week_or_was_cancelled_does_not_wait_yet()
    {
        var items = DeskOrder.Of(
            [Assignment("open", Today.AddDays(8), Guid.NewGuid()), Assignment("cancelled", Today, Guid.NewGuid())],
            [],
            Today
        );
        Assert.Empty(items);
    }
}
