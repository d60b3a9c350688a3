using System.Net;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Api.Tests.Progress;

public sealed class ProgressTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task From_assignment_to_recording_to_score_to_grade_to_progress()
    {
        var student = await app.AsAsync(SchoolsFixture.Student);
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        Assert.Empty((await student.ProgressAsync(app.IdOf(SchoolsFixture.Student), Cancel)).Parameters);

        var assignment = await app.AssignAsync("box-circles");
        var attemptId = await app.UploadAsync(assignment.Id, "f01.gpx");
        Assert.Equal("flown", await StateAsync());
        await app.ScoreAsync(attemptId);
        Assert.Equal(AttemptStatus.Scored, (await student.AttemptAsync(attemptId, Cancel)).Status);
        await instructor.SaveGradeAsync(
            attemptId,
            new SaveGrade("above-standard", [new SegmentGrade(0, "above-standard")], "Well flown.", Sign: true),
            Cancel
        );
        Assert.Equal("graded", await StateAsync());
        await student.AcknowledgeGradeAsync(attemptId, new AcknowledgeGrade(), Cancel);

        await app.ScoredAsync("racetrack", "f12.csv");
        var progress = await student.ProgressAsync(app.IdOf(SchoolsFixture.Student), Cancel);
        // f01 was flown in February, f12 in November: unlike drills are apart, the newer one first, whatever was uploaded when.
        var altitude = progress.Parameters.Where(p => p.Parameter == Parameter.Altitude).ToList();
        Assert.Equal(["racetrack", "box-circles"], altitude.Select(p => p.Group.DrillSlug));
        Assert.All(altitude, p => Assert.Equal("ft", p.Unit));
        var points = altitude.ConvertAll(p => Assert.Single(p.Points));
        Assert.All(points, p => Assert.True(0 <= p.Lo && p.Lo <= p.WithinShare && p.WithinShare <= p.Hi && p.Hi <= 1, $"{p}"));
        Assert.True(points[0].Lo < 1, "A perfect share is not a certain one.");
        Assert.All(altitude, p => Assert.Null(p.TrendPerAttempt));
        Assert.All(altitude, p => Assert.Equal("too little data: 1 of 5 attempts", p.Reason));
        Assert.All(altitude, p => Assert.NotEmpty(p.Kinds));

        async Task<string> StateAsync() => Assert.Single(await student.AssignmentsAsync(ct: Cancel), a => a.Id == assignment.Id).State;
    }

    [Fact]
    public async Task Progress_is_of_students_and_unknown_ones_are_not_found()
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => instructor.ProgressAsync(Guid.CreateVersion7(), Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => instructor.ProgressAsync(app.IdOf(SchoolsFixture.Chief), Cancel));
        Assert.Equal("The other-student", (await instructor.ProgressAsync(app.IdOf(SchoolsFixture.OtherStudent), Cancel)).StudentName);
    }

    [Fact]
    public async Task Weak_segments_name_an_example_and_say_when_there_is_too_little_data()
    {
        await app.ScoredAsync("timed-turns", "f13.csv");
        var student = await app.AsAsync(SchoolsFixture.Student);
        var id = app.IdOf(SchoolsFixture.Student);
        var weak = await student.WeakSegmentsAsync(id, Cancel);
        Assert.All(weak, w => Assert.Equal($"too little data: {w.Attempts} of 3 attempts", w.Reason));
        Assert.All(weak, w => Assert.True(!w.Recurring && w.Lo <= w.NotMetShare && w.NotMetShare <= w.Hi, $"{w}"));
        Assert.All(weak, w => Assert.Equal(SchoolPrior.Jeffreys, w.Prior));
        foreach (var w in weak)
        {
            var segment = (await student.AttemptAsync(w.Example.AttemptId, Cancel)).Score!.Segments[w.Example.SegmentIndex];
            Assert.Equal(w.SegmentKind, segment.Kind);
            Assert.Equal(Verdict.NotMet, segment.Deviations.Single(d => d.Parameter == w.Parameter).Verdict);
        }

        Assert.Empty(await student.NextDrillAsync(id, Cancel));
    }

    [Fact]
    public async Task The_overview_names_students_with_what_they_still_have_to_fly()
    {
        await app.AssignAsync("racetrack", SchoolsFixture.OtherStudent);
        await app.ScoredAsync("timed-turns", "f13.csv");
        var overview = await (await app.AsAsync(SchoolsFixture.Chief)).SchoolOverviewAsync(ct: Cancel);
        Assert.Equal(["The other-student", "The student"], overview.Students.Select(s => s.StudentName));
        Assert.Equal((0, 1, 0), (overview.Students[0].Attempts, overview.Students[0].NotYetFlown, overview.Students[0].Overdue));
        Assert.NotNull(overview.Students[1].LastFlownOn);
        Assert.Contains(overview.Drills, d => d is { DrillSlug: "timed-turns", Students: 1, Attempts: > 0 });
    }

    [Fact]
    public async Task One_grade_beside_the_engines_verdict_is_too_little_data_for_an_agreement()
    {
        var attemptId = await app.ScoredAsync("timed-turns", "f13.csv");
        var second = await app.AsAsync(SchoolsFixture.SecondInstructor);
        await second.SaveGradeAsync(attemptId, new SaveGrade("to-standard", [], null, Sign: true), Cancel);
        var agreement = await (await app.AsAsync(SchoolsFixture.Chief)).GradingAgreementAsync(Cancel);
        var pair = Assert.Single(agreement.Pairs, p => p.FirstId == app.IdOf(SchoolsFixture.SecondInstructor));
        Assert.Equal(("the engine", 1, "too little data: 1 of 10 attempts"), (pair.SecondName, pair.Shared, pair.Reason));
        Assert.Null(pair.Kappa);
    }
}
