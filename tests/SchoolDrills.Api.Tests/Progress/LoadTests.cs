using System.Net;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Api.Tests.Progress;

public sealed class LoadTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <summary>f13 was flown on 17 January 2026, its drill of 6:30 from about 17:30: four tasks and no check are 0.6 a minute.</summary>
    [Fact]
    public async Task Load_is_told_of_attempts_with_notes_and_a_bias_from_three_with_own_ratings()
    {
        var id = app.IdOf(SchoolsFixture.Student);
        var student = await app.AsAsync(SchoolsFixture.Student);
        var nothing = await student.LoadAsync(id, Cancel);
        Assert.Equal((0, 0), (nothing.Attempts, nothing.Load.Reached.Count));
        Assert.Equal("too little data: 0 of 3 attempts", nothing.Load.OwnRating.Reason);

        await app.ScoredAsync("timed-turns", "f13.csv");
        Assert.Equal(0, (await student.LoadAsync(id, Cancel)).Attempts);

        foreach (var ratings in new IReadOnlyList<int>?[] { [4, 4], [5], [4, 5], null })
            await FlyAsync("timed-turns", "f13.csv", ratings);
        var told = await (await app.AsAsync(SchoolsFixture.Instructor)).LoadAsync(id, Cancel);
        Assert.Equal((4, "The student", 0.9), (told.Attempts, told.StudentName, told.StandardShare));
        var reached = Assert.Single(told.Load.Reached);
        Assert.Equal("timed-turns", reached.Group.DrillSlug);
        Assert.Equal([3, 3, 3, 3], reached.Points.Select(p => p.Level));
        Assert.All(reached.Points, p => Assert.True(p.Held));
        Assert.Equal(3, reached.HighestHeld);
        // Rated 4, 5 and 4.5 at a load of 3: a mean of 1.5.
        Assert.Equal((3, 1.5), (told.Load.OwnRating.Attempts, Math.Round(told.Load.OwnRating.Bias!.Value, 6)));
        Assert.Empty(told.Load.Checks);

        // Somebody took notes and noted no check: those of the drill were missed.
        await FlyAsync("racetrack", "f12.csv", [2]);
        var checks = (await student.LoadAsync(id, Cancel)).Load.Checks;
        Assert.Contains(checks, c => c is { Kind: CheckKind.Flow, Name: null });
        Assert.All(checks, c => Assert.Equal(c.Due, c.Missed.NotMet));
        Assert.All(checks, c => Assert.Equal("too little data: 1 of 3 attempts", c.Missed.Reason));
    }

    [Fact]
    public async Task Load_is_seen_by_the_student_and_by_who_teaches()
    {
        var id = app.IdOf(SchoolsFixture.OtherStudent);
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        Assert.Empty((await chief.LoadAsync(id, Cancel)).Load.Checks);
        await Refusals.RefusedAsync(
            HttpStatusCode.NotFound,
            async () => await (await app.AsAsync(SchoolsFixture.Student)).LoadAsync(id, Cancel)
        );
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => chief.LoadAsync(app.IdOf(SchoolsFixture.Chief), Cancel));
    }

    [Fact]
    public async Task Ratings_noted_in_flight_count_where_the_student_entered_none()
    {
        var student = await app.NewcomerAsync("rated-in-flight", Roles.Student);
        var id = (await student.MeAsync(Cancel)).Id;
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        for (var k = 0; k < 3; k++)
        {
            var assigned = await instructor.AssignAsync(new CreateAssignment([id], "timed-turns", null), Cancel);
            await using var track = SchoolsFixture.Recording("f13.csv");
            var noted = new AttemptMeta
            {
                Events = [new AttemptEvent(Guid.CreateVersion7(), EventKinds.LoadRating, At.AddMinutes(2), $"{2 + k}")],
            };
            await app.ScoreAsync((await instructor.UploadAsync(assigned[0].Id, track, "f13.csv", noted, Cancel)).AttemptId);
        }

        var load = (await student.LoadAsync(id, Cancel)).Load;
        Assert.Equal(3, load.OwnRating.Attempts);
    }

    /// <summary>In the drill of that recording.</summary>
    private static readonly DateTimeOffset At = DateTimeOffset.Parse("2026-01-17T17:31:00Z", null);

    private async Task FlyAsync(string drill, string file, IReadOnlyList<int>? ratings)
    {
        var assignment = await app.AssignAsync(drill);
        var attemptId = await app.UploadAsync(
            assignment.Id,
            file,
            new AttemptMeta
            {
                Events =
                [
                    .. Enumerable
                        .Range(0, 4)
                        .Select(i => new AttemptEvent(Guid.CreateVersion7(), EventKinds.TaskGiven, At.AddMinutes(i), $"Task {i}")),
                ],
                LoadRatings = ratings,
            }
        );
        await app.ScoreAsync(attemptId);
    }
}
