using System.Net;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Grades;

public sealed class GradeTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static readonly SaveGrade Draft = new(
        "to-standard",
        [new SegmentGrade(0, "to-standard"), new SegmentGrade(1, "with-help", "Late roll-out.")],
        "Good scan.",
        Sign: false
    );

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_grade_is_drafted_signed_acknowledged_and_amended_and_the_first_one_stays()
    {
        var attemptId = await FlownAsync();
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var student = await app.AsAsync(SchoolsFixture.Student);

        var draft = await instructor.SaveGradeAsync(attemptId, Draft, Cancel);
        Assert.Null(draft.SignedAtUtc);
        Assert.Null((await student.AttemptAsync(attemptId, Cancel)).Grade);

        var signed = await instructor.SaveGradeAsync(attemptId, Draft with { Sign = true }, Cancel);
        Assert.NotNull(signed.SignedAtUtc);
        Assert.Equal(Draft.Segments, (await student.AttemptAsync(attemptId, Cancel)).Grade!.Segments);
        await Refusals.RefusedAsync(HttpStatusCode.Conflict, () => instructor.SaveGradeAsync(attemptId, Draft, Cancel));

        var acknowledged = await student.AcknowledgeGradeAsync(attemptId, new AcknowledgeGrade("Thanks."), Cancel);
        Assert.NotNull(acknowledged.AcknowledgedAtUtc);
        Assert.Equal("Thanks.", acknowledged.StudentReply);
        Assert.Equal(
            acknowledged.AcknowledgedAtUtc,
            (await student.AcknowledgeGradeAsync(attemptId, new AcknowledgeGrade("Again."), Cancel)).AcknowledgedAtUtc
        );

        var amended = await (await app.AsAsync(SchoolsFixture.Chief)).AmendGradeAsync(
            attemptId,
            new AmendGrade("with-help", [], null, "The second turn was flown twice."),
            Cancel
        );
        Assert.Equal(("with-help", "The second turn was flown twice."), (amended.Overall, amended.AmendmentReason));
        Assert.Equal("with-help", (await student.AttemptsAsync(ct: Cancel)).Items.Single(a => a.AttemptId == attemptId).Grade);
        var first = Assert.Single(amended.Earlier);
        Assert.Equal((signed.Id, "to-standard", signed.SignedAtUtc), (first.Id, first.Overall, first.SignedAtUtc));

        var deeds = await app.QueryAsync(db =>
            db.AuditEntries.Where(e => e.SubjectId == attemptId).OrderBy(e => e.Id).Select(e => e.Action).ToListAsync(Cancel)
        );
        Assert.Equal(["attempt-uploaded", "grade-signed", "grade-acknowledged", "grade-amended"], deeds);
    }

    [Fact]
    public async Task Of_two_instructors_with_one_draft_open_the_later_one_is_told()
    {
        var attemptId = await FlownAsync();
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var second = await app.AsAsync(SchoolsFixture.SecondInstructor);
        var seen = (await instructor.SaveGradeAsync(attemptId, Draft, Cancel)).Revision;
        await second.SaveGradeAsync(attemptId, Draft with { Comment = "Mine.", Revision = seen }, Cancel);
        var problem = await Refusals.RefusedAsync(
            HttpStatusCode.Conflict,
            () => instructor.SaveGradeAsync(attemptId, Draft with { Comment = "No, mine.", Revision = seen }, Cancel)
        );
        Assert.Contains("second-instructor", problem.Message, StringComparison.Ordinal);
        Assert.Equal("Mine.", (await instructor.AttemptAsync(attemptId, Cancel)).Grade!.Comment);
    }

    [Fact]
    public async Task A_draft_is_not_lost_to_another_instructor_who_never_saw_it()
    {
        var attemptId = await FlownAsync();
        await (await app.AsAsync(SchoolsFixture.Instructor)).SaveGradeAsync(attemptId, Draft, Cancel);
        var second = await app.AsAsync(SchoolsFixture.SecondInstructor);
        await Refusals.RefusedAsync(
            HttpStatusCode.Conflict,
            () => second.SaveGradeAsync(attemptId, Draft with { Comment = "Mine." }, Cancel)
        );
        Assert.Equal("Good scan.", (await second.AttemptAsync(attemptId, Cancel)).Grade!.Comment);
    }

    [Fact]
    public async Task Grades_are_words_of_the_schools_scale_for_segments_of_the_drill()
    {
        var attemptId = await FlownAsync();
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        await RefusedAsync(Draft with { Overall = "splendid" });
        await RefusedAsync(Draft with { Segments = [new SegmentGrade(99, "to-standard")] });
        await RefusedAsync(Draft with { Segments = [new SegmentGrade(0, "splendid")] });
        await RefusedAsync(Draft with { Segments = [new SegmentGrade(0, "to-standard"), new SegmentGrade(0, "with-help")] });

        async Task RefusedAsync(SaveGrade wrong) =>
            await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => instructor.SaveGradeAsync(attemptId, wrong, Cancel));
    }

    [Fact]
    public async Task Nothing_unsigned_is_acknowledged_or_amended_and_no_one_acknowledges_for_the_student()
    {
        var attemptId = await FlownAsync();
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var student = await app.AsAsync(SchoolsFixture.Student);
        await instructor.SaveGradeAsync(attemptId, Draft, Cancel);
        await Refusals.RefusedAsync(
            HttpStatusCode.Conflict,
            () => student.AcknowledgeGradeAsync(attemptId, new AcknowledgeGrade(), Cancel)
        );
        await Refusals.RefusedAsync(
            HttpStatusCode.Conflict,
            () => instructor.AmendGradeAsync(attemptId, new AmendGrade("with-help", [], null, "Reason."), Cancel)
        );
        await instructor.SaveGradeAsync(attemptId, Draft with { Sign = true }, Cancel);
        await Refusals.RefusedAsync(
            HttpStatusCode.Forbidden,
            () => instructor.AcknowledgeGradeAsync(attemptId, new AcknowledgeGrade(), Cancel)
        );
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => instructor.AmendGradeAsync(attemptId, new AmendGrade("with-help", [], null, " "), Cancel)
        );
    }

    [Fact]
    public async Task A_draft_may_lack_its_overall_word_and_hold_a_remark_without_a_word_and_signing_wants_the_overall_one()
    {
        var attemptId = await FlownAsync();
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var open = new SaveGrade(null, [new SegmentGrade(0, "to-standard"), new SegmentGrade(2, "", "Look here.")], null, Sign: false);
        var draft = await instructor.SaveGradeAsync(attemptId, open, Cancel);
        Assert.Equal(("", 2), (draft.Overall, draft.Segments.Count));
        var problem = await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => instructor.SaveGradeAsync(attemptId, open with { Sign = true }, Cancel)
        );
        Assert.Contains("overall", problem.Message, StringComparison.Ordinal);
        problem = await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => instructor.SaveGradeAsync(attemptId, open with { Segments = [null!] }, Cancel)
        );
        Assert.Contains("null", problem.Message, StringComparison.Ordinal);
        Assert.Equal("Look here.", (await instructor.GradeAsync(attemptId, Cancel)).Grade!.Segments[1].Comment);
    }

    [Fact]
    public async Task A_student_sees_no_sign_of_a_draft_in_any_list()
    {
        var attemptId = await FlownAsync();
        await (await app.AsAsync(SchoolsFixture.Instructor)).SaveGradeAsync(attemptId, Draft, Cancel);
        var student = await app.AsAsync(SchoolsFixture.Student);
        Assert.Null((await student.GradeAsync(attemptId, Cancel)).Grade);
        var listed = (await student.AttemptsAsync(ct: Cancel)).Items.Single(a => a.AttemptId == attemptId);
        Assert.Equal(("none", null), (listed.GradeState, listed.Grade));
        Assert.Equal(
            "none",
            (await student.AssignmentsAsync(ct: Cancel)).Single(a => a.LatestAttempt?.AttemptId == attemptId).LatestAttempt!.GradeState
        );
        Assert.Equal(
            "draft",
            (await (await app.AsAsync(SchoolsFixture.SecondInstructor)).AttemptsAsync(ct: Cancel))
                .Items.Single(a => a.AttemptId == attemptId)
                .GradeState
        );
    }

    private async Task<Guid> FlownAsync() => await app.UploadAsync((await app.AssignAsync("timed-turns")).Id, "f13.csv");
}
