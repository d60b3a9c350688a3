using System.Net;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Api.Tests.Corrections;

public sealed class CorrectionTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_moved_boundary_is_scored_and_the_engines_own_stays_beside_until_it_is_undone()
    {
        var (attemptId, own) = await FlownAsync();
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var later = own.Segments[1].StartUtc!.Value.AddSeconds(5);

        var queued = await instructor.SetBoundariesAsync(
            attemptId,
            new PutBoundaries([new ManualBoundary(1, later)], Reason: "He began the roll at the count."),
            Cancel
        );
        Assert.Equal(AttemptStatus.Queued, queued.Status);
        // The old score stays to be read until the new one is there.
        Assert.Equal(own.Segments[1].StartUtc, queued.Score!.Segments[1].StartUtc);
        Assert.True(queued.IsRescoring);

        await app.ScoreAsync(attemptId);
        var corrected = await (await app.AsAsync(SchoolsFixture.Student)).AttemptAsync(attemptId, Cancel);
        Assert.Equal(AttemptStatus.Scored, corrected.Status);
        Assert.Equal(later, corrected.Score!.Segments[1].StartUtc!.Value, TimeSpan.FromMilliseconds(50));
        Assert.Equal(own.Segments[1].StartUtc, corrected.EngineScore!.Segments[1].StartUtc);
        var made = Assert.Single(corrected.Corrections);
        Assert.Equal(
            ("The instructor", "He began the roll at the count.", later),
            (made.PersonName, made.Reason, Assert.Single(made.Segments).StartUtc)
        );

        await instructor.UndoBoundariesAsync(attemptId, corrected.Revision, Cancel);
        await app.ScoreAsync(attemptId);
        var undone = await instructor.AttemptAsync(attemptId, Cancel);
        Assert.Equal((AttemptStatus.Scored, own.Segments[1].StartUtc), (undone.Status, undone.Score!.Segments[1].StartUtc));
        Assert.Null(undone.EngineScore);
        Assert.Equal([true, false], undone.Corrections.Select(c => c.Undone));
        // The engine's own and the corrected: going back made no third.
        Assert.Equal(2, await app.QueryAsync(db => db.ScoreReports.CountAsync(r => r.AttemptId == attemptId, Cancel)));

        var deeds = await app.QueryAsync(db =>
            db.AuditEntries.Where(e => e.SubjectId == attemptId && e.Action != "attempt-scored")
                .OrderBy(e => e.Id)
                .Select(e => new { e.Action, e.Detail })
                .ToListAsync(Cancel)
        );
        Assert.Equal(["attempt-uploaded", "attempt-corrected", "corrections-undone"], deeds.Select(d => d.Action));
        Assert.Matches("^before: segment 1 .+; after: segment 1 .+ to as found; He began the roll at the count.$", deeds[1].Detail);
    }

    [Fact]
    public async Task Progress_counts_the_latest_report_alone()
    {
        var (attemptId, own) = await FlownAsync();
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        await instructor.SetBoundariesAsync(
            attemptId,
            new PutBoundaries(Excluded: [new ExcludedStretch(own.Segments[1].StartUtc!.Value, own.Segments[1].EndUtc!.Value, "Traffic.")]),
            Cancel
        );
        await app.ScoreAsync(attemptId);
        var progress = await instructor.ProgressAsync(app.IdOf(SchoolsFixture.Student), Cancel);
        Assert.All(progress.Parameters, p => Assert.True(p.Points.Count(x => x.AttemptId == attemptId) <= 1));
        var latest = await app.QueryAsync(db =>
            db.Attempts.Where(a => a.Id == attemptId).Select(a => a.LatestReport!.Corrected).SingleAsync(Cancel)
        );
        Assert.True(latest);
    }

    [Fact]
    public async Task What_cannot_be_true_is_refused_with_the_segment_named()
    {
        var (attemptId, own) = await FlownAsync();
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var first = own.Segments[1];

        await RefusedAsync(first.Name, new PutBoundaries([new ManualBoundary(1, own.Recording.EndUtc.AddMinutes(1))]));
        await RefusedAsync(first.Name, new PutBoundaries([new ManualBoundary(1, first.EndUtc!.Value.AddSeconds(1), first.EndUtc)]));
        await RefusedAsync("segment 99", new PutBoundaries([new ManualBoundary(99, first.StartUtc)]));
        await RefusedAsync("reason", new PutBoundaries(Excluded: [new ExcludedStretch(first.StartUtc!.Value, first.EndUtc.Value, " ")]));
        await RefusedAsync("Nothing", new PutBoundaries());
        Assert.Empty((await instructor.BoundariesAsync(attemptId, Cancel)).History);

        async Task RefusedAsync(string says, PutBoundaries wrong) =>
            Assert.Contains(
                says,
                (
                    await Refusals.RefusedAsync(
                        HttpStatusCode.UnprocessableEntity,
                        () => instructor.SetBoundariesAsync(attemptId, wrong, Cancel)
                    )
                ).Message,
                StringComparison.OrdinalIgnoreCase
            );
    }

    [Fact]
    public async Task Students_read_corrections_and_make_none()
    {
        var (attemptId, own) = await FlownAsync();
        var student = await app.AsAsync(SchoolsFixture.Student);
        await Refusals.RefusedAsync(
            HttpStatusCode.Forbidden,
            () => student.SetBoundariesAsync(attemptId, new PutBoundaries([new ManualBoundary(1, own.Segments[1].StartUtc)]), Cancel)
        );
        await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => student.UndoBoundariesAsync(attemptId, ct: Cancel));
        Assert.Null((await student.BoundariesAsync(attemptId, Cancel)).Standing);
        var other = await app.AsAsync(SchoolsFixture.OtherStudent);
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => other.BoundariesAsync(attemptId, Cancel));
        var far = await app.AsAsync(SchoolsFixture.FarChief);
        await Refusals.RefusedAsync(
            HttpStatusCode.NotFound,
            () => far.SetBoundariesAsync(attemptId, new PutBoundaries([new ManualBoundary(1, own.Segments[1].StartUtc)]), Cancel)
        );
    }

    [Fact]
    public async Task Of_two_instructors_who_correct_at_once_the_second_is_told_and_nothing_is_lost()
    {
        var (attemptId, own) = await FlownAsync();
        var first = await app.AsAsync(SchoolsFixture.Instructor);
        var second = await app.AsAsync(SchoolsFixture.SecondInstructor);
        var seen = (await second.AttemptAsync(attemptId, Cancel)).Revision;
        await first.SetBoundariesAsync(attemptId, Shift(own, 1, 3, seen), Cancel);
        var told = await Refusals.RefusedAsync(
            HttpStatusCode.Conflict,
            () => second.SetBoundariesAsync(attemptId, Shift(own, 3, 2, seen), Cancel)
        );
        Assert.Contains("The instructor", told.Message, StringComparison.Ordinal);
        Assert.Equal(1, Assert.Single((await second.BoundariesAsync(attemptId, Cancel)).Standing!.Segments).Index);

        var answers = await Task.WhenAll(
            Enumerable
                .Range(0, 4)
                .Select(async i =>
                    await Record.ExceptionAsync(() =>
                        (i % 2 == 0 ? first : second).SetBoundariesAsync(attemptId, Shift(own, 1, 1 + i, seen + 1), Cancel)
                    )
                )
        );
        Assert.Single(answers, a => a is null);
        Assert.All(
            answers.Where(a => a is not null),
            a => Assert.Equal(HttpStatusCode.Conflict, Assert.IsType<ApiProblemException>(a).Status)
        );
    }

    [Fact]
    public async Task A_worker_that_was_overtaken_by_a_correction_does_not_put_its_score_over_it()
    {
        var (attemptId, own) = await FlownAsync();
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        await instructor.SetBoundariesAsync(attemptId, Shift(own, 1, 3, null), Cancel);
        await using var scope = app.Services.CreateAsyncScope();
        scope
            .ServiceProvider.GetRequiredService<SchoolScope>()
            .Enter(Viewer.Staff(app.TussockId, app.IdOf(SchoolsFixture.Instructor), null));
        var db = scope.ServiceProvider.GetRequiredService<SchoolDrillsDbContext>();
        // The slow worker has read the attempt; then the instructor thinks again, and a faster worker scores that.
        var read = await db.Attempts.Include(a => a.DrillVersion).Include(a => a.Corrections).SingleAsync(a => a.Id == attemptId, Cancel);
        await instructor.SetBoundariesAsync(attemptId, Shift(own, 1, 6, null), Cancel);
        await app.ScoreAsync(attemptId);
        read.Status = AttemptStatus.Scored;
        await Assert.ThrowsAsync<DbUpdateConcurrencyException>(() => db.SaveChangesAsync(Cancel));

        var attempt = await instructor.AttemptAsync(attemptId, Cancel);
        Assert.Equal(
            own.Segments[1].StartUtc!.Value.AddSeconds(6),
            attempt.Score!.Segments[1].StartUtc!.Value,
            TimeSpan.FromMilliseconds(50)
        );
    }

    [Fact]
    public async Task A_signed_grade_keeps_the_report_it_was_given_against()
    {
        var (attemptId, own) = await FlownAsync();
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var signed = await instructor.SaveGradeAsync(attemptId, new SaveGrade("to-standard", [], null, Sign: true), Cancel);
        await instructor.SetBoundariesAsync(attemptId, Shift(own, 1, 3, null), Cancel);
        await app.ScoreAsync(attemptId);
        var attempt = await instructor.AttemptAsync(attemptId, Cancel);
        Assert.Equal(signed.ReportId, attempt.Grade!.ReportId);
        Assert.NotEqual(attempt.ReportId, attempt.Grade.ReportId);
        var amended = await instructor.AmendGradeAsync(attemptId, new AmendGrade("with-help", [], null, "Scored anew."), Cancel);
        Assert.Equal(attempt.ReportId, amended.ReportId);
        Assert.Equal(signed.ReportId, Assert.Single(amended.Earlier).ReportId);
    }

    private static PutBoundaries Shift(ScoreReport own, int index, double seconds, int? revision) =>
        new([new ManualBoundary(index, own.Segments[index].StartUtc!.Value.AddSeconds(seconds))], Revision: revision);

    private async Task<(Guid AttemptId, ScoreReport Own)> FlownAsync()
    {
        var attemptId = await app.ScoredAsync("timed-turns", "f13.csv");
        return (attemptId, (await (await app.AsAsync(SchoolsFixture.Instructor)).AttemptAsync(attemptId, Cancel)).Score!);
    }
}
