using System.Net;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Notices;

/// <summary>What is told in the save that causes it.</summary>
public sealed class NoticeTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_student_is_told_of_work_a_grade_and_its_amendment_and_the_instructor_of_the_reply()
    {
        var (student, instructor) = (await app.AsAsync(SchoolsFixture.Student), await app.AsAsync(SchoolsFixture.Instructor));
        var attemptId = await app.ScoredAsync("timed-turns", "f13.csv");
        // Those of other tests.
        await student.ReadNoticesAsync(new ReadNotices(All: true), Cancel);
        var draft = await instructor.SaveGradeAsync(attemptId, new SaveGrade("not-yet", [], null, false), Cancel);
        // The work was flown before it was read; a draft is nobody's business.
        Assert.Equal(0, (await student.UnreadNoticesAsync(Cancel)).Unread);
        await instructor.SaveGradeAsync(attemptId, new SaveGrade("to-standard", [], "Well flown.", true, draft.Revision), Cancel);
        await instructor.AmendGradeAsync(attemptId, new AmendGrade("with-help", [], null, "One turn was helped."), Cancel);
        var told = await student.NoticesAsync(unread: true, ct: Cancel);
        Assert.Equal([NoticeKind.Amended, NoticeKind.Graded], told.Items.Select(n => n.Kind));
        Assert.All(told.Items, n => Assert.Equal((attemptId, false), (n.AttemptId!.Value, n.Read)));
        Assert.Equal((2, 2), (told.Total, told.Unread));

        await student.AcknowledgeGradeAsync(attemptId, new AcknowledgeGrade("Understood."), Cancel);
        await student.AcknowledgeGradeAsync(attemptId, new AcknowledgeGrade("Understood."), Cancel);
        var reply = Assert.Single((await instructor.NoticesAsync(ct: Cancel)).Items);
        Assert.Equal((NoticeKind.Replied, "The student", attemptId), (reply.Kind, reply.Student, reply.AttemptId));

        var later = await app.AssignAsync("racetrack");
        var work = (await student.NoticesAsync(unread: true, ct: Cancel)).Items[0];
        Assert.Equal((NoticeKind.Assigned, later.Id, later.DueOn), (work.Kind, work.AssignmentId, work.DueOn));
        Assert.Equal(later.DrillTitle, work.DrillTitle);
        await instructor.CancelAssignmentAsync(later.Id, Cancel);
        Assert.DoesNotContain((await student.NoticesAsync(ct: Cancel)).Items, n => n.AssignmentId == later.Id);

        Assert.Equal(1, (await student.ReadNoticesAsync(new ReadNotices([told.Items[0].Id]), Cancel)).Unread);
        Assert.Equal(told.Items[1].Id, Assert.Single((await student.NoticesAsync(unread: true, ct: Cancel)).Items).Id);
        Assert.Equal(0, (await student.ReadNoticesAsync(new ReadNotices(All: true), Cancel)).Unread);
        Assert.Equal(2, (await student.NoticesAsync(ct: Cancel)).Items.Count(n => n.AttemptId == attemptId && n.Read));
    }

    [Fact]
    public async Task An_acknowledgement_without_a_reply_tells_nobody()
    {
        var attemptId = await app.ScoredAsync("racetrack", "f12.csv");
        var (student, second) = (await app.AsAsync(SchoolsFixture.Student), await app.AsAsync(SchoolsFixture.SecondInstructor));
        await second.SaveGradeAsync(attemptId, new SaveGrade("to-standard", [], null, true), Cancel);
        await student.AcknowledgeGradeAsync(attemptId, new AcknowledgeGrade(" "), Cancel);
        Assert.Empty((await second.NoticesAsync(ct: Cancel)).Items);
    }

    [Fact]
    public async Task Nobody_reads_or_marks_what_another_is_told()
    {
        var newcomer = await app.NewcomerAsync("told-student", Roles.Student);
        await app.AssignAsync("racetrack", "told-student");
        var notice = Assert.Single((await newcomer.NoticesAsync(ct: Cancel)).Items);
        foreach (
            var person in (string[])[SchoolsFixture.OtherStudent, SchoolsFixture.Instructor, SchoolsFixture.Chief, SchoolsFixture.FarChief]
        )
        {
            var other = await app.AsAsync(person);
            Assert.DoesNotContain((await other.NoticesAsync(ct: Cancel)).Items, n => n.Id == notice.Id);
            await other.ReadNoticesAsync(new ReadNotices([notice.Id]), Cancel);
        }

        Assert.Equal(1, (await newcomer.UnreadNoticesAsync(Cancel)).Unread);
        await Refusals.RefusedAsync(HttpStatusCode.BadRequest, () => newcomer.ReadNoticesAsync(new ReadNotices(), Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.BadRequest, () => newcomer.NoticesAsync(page: 0, ct: Cancel));
    }

    [Fact]
    public async Task A_student_writes_notices_of_his_own_work_alone_and_unwrites_none()
    {
        await using var raw = await RawSql.OpenAsync(app.Database.Access.App);
        var (student, other) = (app.IdOf(SchoolsFixture.Student), app.IdOf(SchoolsFixture.OtherStudent));
        await raw.EnterAsync(app.TussockId, other, "self");
        await raw.RefusesAsync(
            "insert into notices (id, school_id, person_id, student_id, kind, cause_id, drill_title, made_at_utc) values "
                + $"(gen_random_uuid(), '{app.TussockId}', '{student}', '{student}', 'graded', gen_random_uuid(), 'x', now())"
        );
        await raw.RefusesAsync("delete from notices");
        await raw.RefusesAsync("update notices set drill_title = 'x'");
    }

    [Fact]
    public async Task Who_has_left_is_told_nothing()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        await app.NewcomerAsync("leaving-instructor", Roles.Instructor);
        var (leaving, student) = (await app.AsAsync("leaving-instructor"), await app.AsAsync(SchoolsFixture.Student));
        var attemptId = await app.ScoredAsync("vertical-s-turning", "f12.csv");
        await leaving.SaveGradeAsync(attemptId, new SaveGrade("to-standard", [], null, true), Cancel);
        await chief.DeactivateAsync(app.IdOf("leaving-instructor"), Cancel);
        await student.AcknowledgeGradeAsync(attemptId, new AcknowledgeGrade("Thank you."), Cancel);
        var person = app.IdOf("leaving-instructor");
        Assert.Equal(0, await app.QueryAsJobAsync(db => db.Notices.CountAsync(n => n.PersonId == person, Cancel)));
    }
}
