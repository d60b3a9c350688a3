using System.Net;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Assignments;

public sealed class AssignmentTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Several_students_get_one_each_and_see_it_at_once()
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var made = await instructor.AssignAsync(
            new CreateAssignment(
                [app.IdOf(SchoolsFixture.Student), app.IdOf(SchoolsFixture.OtherStudent)],
                "racetrack",
                new DateOnly(2031, 5, 1),
                "Keep the scan going.",
                new AssignmentOverrides(HeadingMagDeg: 90, AltitudeFt: 4000, Mirrored: true)
            ),
            Cancel
        );
        Assert.Equal(2, made.Count);
        var seen = Assert.Single(
            await (await app.AsAsync(SchoolsFixture.OtherStudent)).AssignmentsAsync(ct: Cancel),
            a => made.Any(m => m.Id == a.Id)
        );
        Assert.Equal(
            (
                app.IdOf(SchoolsFixture.OtherStudent),
                "racetrack",
                1,
                new DateOnly(2031, 5, 1),
                "Keep the scan going.",
                "open",
                "The instructor"
            ),
            (seen.StudentId, seen.DrillSlug, seen.DrillVersion, seen.DueOn, seen.Notes, seen.State, seen.AssignedBy)
        );
        Assert.Equal(new AssignmentOverrides(HeadingMagDeg: 90, AltitudeFt: 4000, Mirrored: true), seen.Overrides);
    }

    [Fact]
    public async Task Work_past_its_day_is_overdue()
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var late = Assert.Single(
            await instructor.AssignAsync(
                new CreateAssignment([app.IdOf(SchoolsFixture.Student)], "box-circles", new DateOnly(2020, 1, 1)),
                Cancel
            )
        );
        Assert.Equal("overdue", late.State);
        Assert.Contains(late.Id, (await instructor.AssignmentsAsync(state: "overdue", ct: Cancel)).Select(a => a.Id));
        Assert.DoesNotContain(late.Id, (await instructor.AssignmentsAsync(state: "open", ct: Cancel)).Select(a => a.Id));
    }

    [Fact]
    public async Task Cancelled_work_leaves_the_list_and_takes_no_recording()
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var assignment = await app.AssignAsync("timed-turns");
        await instructor.CancelAssignmentAsync(assignment.Id, Cancel);
        await instructor.CancelAssignmentAsync(assignment.Id, Cancel);
        Assert.DoesNotContain(assignment.Id, (await instructor.AssignmentsAsync(ct: Cancel)).Select(a => a.Id));
        Assert.Equal(
            "cancelled",
            Assert.Single(await instructor.AssignmentsAsync(state: "cancelled", ct: Cancel), a => a.Id == assignment.Id).State
        );
        await Refusals.RefusedAsync(HttpStatusCode.Conflict, () => app.UploadAsync(assignment.Id, "f13.csv"));
    }

    [Fact]
    public async Task An_assignment_without_a_due_day_and_notes_is_taken()
    {
        using var http = await app.HttpAsync(SchoolsFixture.Instructor);
        using var body = new StringContent(
            $$"""{"studentIds": ["{{app.IdOf(SchoolsFixture.Student)}}"], "drillSlug": "box-circles"}""",
            new System.Net.Http.Headers.MediaTypeHeaderValue("application/json")
        );
        var answer = await http.PostAsync("/api/v1/assignments", body, Cancel);
        Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
    }

    [Fact]
    public async Task What_cannot_be_assigned_is_refused_with_its_reason()
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var student = app.IdOf(SchoolsFixture.Student);
        await RefusedAsync(HttpStatusCode.BadRequest, new CreateAssignment([], "box-circles", null));
        await RefusedAsync(HttpStatusCode.UnprocessableEntity, new CreateAssignment([Guid.CreateVersion7()], "box-circles", null));
        await RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            new CreateAssignment([app.IdOf(SchoolsFixture.Instructor)], "box-circles", null)
        );
        await RefusedAsync(HttpStatusCode.UnprocessableEntity, new CreateAssignment([student], "no-such-drill", null));
        await RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            new CreateAssignment([student], "box-circles", null, null, new AssignmentOverrides(StandardSlug: "no-such-standard"))
        );
        await RefusedAsync(HttpStatusCode.BadRequest, new CreateAssignment([student], "box-circles", null, new string('x', 2001)));

        async Task RefusedAsync(HttpStatusCode status, CreateAssignment asked) =>
            await Refusals.RefusedAsync(status, () => instructor.AssignAsync(asked, Cancel));
    }
}
