using System.Net;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Api.Tests.SelfAssessments;

public sealed class SelfAssessmentTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static readonly PutSelfAssessment Said = new(
        [new SelfVerdict(0, Verdict.Met), new SelfVerdict(1, Verdict.NotMet, 4)],
        [3, 4],
        "Late on the second turn."
    );

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task It_is_given_once_by_the_student_and_read_by_the_instructor()
    {
        var attemptId = await FlownAsync();
        var student = await app.AsAsync(SchoolsFixture.Student);
        var given = await student.AssessSelfAsync(attemptId, Said, Cancel);
        Assert.NotNull(given.GivenAtUtc);
        // A device may send twice.
        Assert.Equal(
            given.GivenAtUtc!.Value,
            (await student.AssessSelfAsync(attemptId, Said, Cancel)).GivenAtUtc!.Value,
            TimeSpan.FromMilliseconds(1)
        );
        await Refusals.RefusedAsync(
            HttpStatusCode.Conflict,
            () => student.AssessSelfAsync(attemptId, Said with { Comment = "It was fine." }, Cancel)
        );

        var seen = await (await app.AsAsync(SchoolsFixture.Instructor)).AttemptAsync(attemptId, Cancel);
        Assert.Equal(Said.Segments, seen.SelfAssessment!.Segments);
        Assert.Equal("Late on the second turn.", seen.SelfAssessment.Comment);
        Assert.Equal([3, 4], seen.LoadRatings);
    }

    [Fact]
    public async Task Nobody_assesses_for_the_student()
    {
        var attemptId = await FlownAsync();
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var other = await app.AsAsync(SchoolsFixture.OtherStudent);
        await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => instructor.AssessSelfAsync(attemptId, Said, Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => other.AssessSelfAsync(attemptId, Said, Cancel));
    }

    [Fact]
    public async Task It_may_be_declined_where_the_school_lets_students_decline()
    {
        var attemptId = await FlownAsync();
        var student = await app.AsAsync(SchoolsFixture.Student);
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var settings = await chief.SettingsAsync(Cancel);
        await chief.SaveSettingsAsync(settings with { Grading = settings.Grading with { SelfAssessmentSkippable = false } }, Cancel);
        await Refusals.RefusedAsync(
            HttpStatusCode.Forbidden,
            () => student.AssessSelfAsync(attemptId, new PutSelfAssessment(Skipped: true), Cancel)
        );
        await chief.SaveSettingsAsync(settings, Cancel);
        var skipped = await student.AssessSelfAsync(attemptId, new PutSelfAssessment(Skipped: true), Cancel);
        Assert.NotNull(skipped.SkippedAtUtc);
        // Given all the same afterwards, it says that it was after.
        var late = await student.AssessSelfAsync(attemptId, Said, Cancel);
        Assert.Equal((true, true), (late.SkippedAtUtc is not null, late.GivenAtUtc is not null));
    }

    [Fact]
    public async Task It_is_about_segments_of_the_drill_and_loads_of_one_to_five()
    {
        var attemptId = await FlownAsync();
        var student = await app.AsAsync(SchoolsFixture.Student);
        foreach (
            var wrong in (PutSelfAssessment[])
                [
                    new([new SelfVerdict(40, Verdict.Met)]),
                    new([new SelfVerdict(0, Verdict.Met), new SelfVerdict(0, Verdict.Close)]),
                    new(LoadRatings: [6]),
                    new(),
                ]
        )
        {
            await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => student.AssessSelfAsync(attemptId, wrong, Cancel));
        }
    }

    private async Task<Guid> FlownAsync() => await app.UploadAsync((await app.AssignAsync("timed-turns")).Id, "f13.csv");
}
