using System.Net;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.LoadScales;
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
    public async Task Task_load_and_spare_capacity_are_kept_as_they_were_rated()
    {
        var attemptId = await FlownAsync();
        var student = await app.AsAsync(SchoolsFixture.Student);
        var rated = new PutSelfAssessment(
            TaskLoad: new TaskLoad(80, 20, 70, 40, 60, 30, new TaskLoadWeights(5, 0, 4, 1, 3, 2)),
            Bedford: 6
        );
        foreach (
            var impossible in (PutSelfAssessment[])
                [
                    rated with
                    {
                        Bedford = 11,
                    },
                    rated with
                    {
                        TaskLoad = rated.TaskLoad! with { Effort = 101 },
                    },
                    rated with
                    {
                        TaskLoad = rated.TaskLoad! with { Weights = new TaskLoadWeights(5, 5, 5, 0, 0, 0) },
                    },
                ]
        )
        {
            await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => student.AssessSelfAsync(attemptId, impossible, Cancel));
        }

        await student.AssessSelfAsync(attemptId, rated, Cancel);
        await student.AssessSelfAsync(attemptId, rated, Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.Conflict, () => student.AssessSelfAsync(attemptId, rated with { Bedford = 5 }, Cancel));
        var seen = (await (await app.AsAsync(SchoolsFixture.Instructor)).AttemptAsync(attemptId, Cancel)).SelfAssessment!;
        Assert.Equal((rated.TaskLoad, 6), (seen.TaskLoad, seen.Bedford));
        // (5·80 + 0·20 + 4·70 + 1·40 + 3·60 + 2·30) / 15
        Assert.Equal(64, seen.TaskLoad!.Weighted()!.Value, 9);
    }

    [Fact]
    public async Task A_school_asks_for_the_load_in_flight_and_for_no_further_scale_until_it_says_so()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var settings = await chief.SettingsAsync(Cancel);
        var asks = settings.Grading;
        Assert.Equal((true, false, false), (asks.AskLoadInFlight, asks.AskTaskLoad, asks.AskBedford));
        asks = asks with { AskLoadInFlight = false, AskTaskLoad = true, AskBedford = true };
        await chief.SaveSettingsAsync(settings with { Grading = asks }, Cancel);
        var told = (await (await app.AsAsync(SchoolsFixture.Student)).MeAsync(Cancel)).School.Grading;
        Assert.Equal((false, true, true), (told.AskLoadInFlight, told.AskTaskLoad, told.AskBedford));
        await chief.SaveSettingsAsync(settings, Cancel);
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
