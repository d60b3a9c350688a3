using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Api.Tests.Progress;

/// <summary>What the database counts beside the work is at any time what counting the work anew gives.</summary>
public sealed class TallyTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Tallies_are_those_of_a_rebuild_after_any_series_of_scores_corrections_grades_and_erasures()
    {
        await app.AddAircraftAsync();
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        string[] students = ["tallied-one", "tallied-two", "tallied-leaver"];
        foreach (var name in students)
            await app.NewcomerAsync(name, Roles.Student);
        var random = new Random(20260301);
        var attempts = new List<Guid>();
        for (var step = 0; step < 45; step++)
        {
            if (attempts.Count < 3 || (attempts.Count < 8 && random.Next(4) == 0))
                attempts.Add(await FlownAsync(students[attempts.Count % 3], random));
            else
                await ChangeAsync(attempts[random.Next(attempts.Count)], students, random);
            if (random.Next(6) == 0)
                await instructor.CancelAssignmentAsync((await app.AssignAsync("box-circles", students[0])).Id, Cancel);
            if (step % 5 == 4)
                await RebuildSaysTheSameAsync();
        }

        await EraseAsync(students[2]);
        Assert.NotEmpty(await RebuildSaysTheSameAsync());
    }

    [Fact]
    public async Task Attempts_of_one_school_scored_and_graded_at_once_are_each_counted_once()
    {
        var attempts = new List<Guid>();
        for (var n = 0; n < 4; n++)
            attempts.Add(await app.UploadAsync((await app.AssignAsync("timed-turns")).Id, "f13.csv"));
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        // Two workers take each; whoever comes second keeps nothing. All end without waiting for one another in a circle.
        await Task.WhenAll(attempts.Concat(attempts).Select(app.ScoreAsync));
        await Task.WhenAll(
            attempts
                .Select(id => instructor.SaveGradeAsync(id, new SaveGrade("to-standard", [], null, true), Cancel))
                .Cast<Task>()
                .Concat(attempts.Select(id => SetAsync(id, Verdict.Close, DateTimeOffset.UnixEpoch.AddYears(50))))
        );
        var scored = await app.QueryAsync(db => db.Attempts.CountAsync(a => attempts.Contains(a.Id) && a.GradedAtUtc != null, Cancel));
        Assert.Equal(attempts.Count, scored);
        var rows = await RebuildSaysTheSameAsync();
        Assert.Contains($"drill|timed-turns|2020-01-01|{attempts.Count}|{attempts.Count}|0|1", rows);
    }

    [Fact]
    public async Task A_school_that_moves_to_another_time_zone_has_its_days_counted_anew()
    {
        var attemptId = await app.ScoredAsync("racetrack", "f12.csv");
        // Noon UTC is the day after in Auckland, an hour past midnight in summer.
        await SetAsync(attemptId, Verdict.Met, new DateTimeOffset(2021, 1, 10, 12, 0, 0, TimeSpan.Zero));
        Assert.Contains("drill|racetrack|2021-01-11|1|1|0|1", await RebuildSaysTheSameAsync());
        try
        {
            await SetZoneAsync("Europe/Berlin");
            Assert.Contains("drill|racetrack|2021-01-10|1|1|0|1", await RebuildSaysTheSameAsync());
        }
        finally
        {
            await SetZoneAsync("Pacific/Auckland");
        }
    }

    [Fact]
    public async Task The_overview_says_what_the_reports_themselves_say()
    {
        await app.ScoredAsync("timed-turns", "f13.csv");
        await app.ScoredAsync("racetrack", "f12.csv");
        var overview = await (await app.AsAsync(SchoolsFixture.Chief)).SchoolOverviewAsync(3660, Cancel);
        var period = overview.Period!;
        var flown = await app.QueryAsync(db =>
            db.Attempts.AsNoTracking()
                .Where(a => a.Verdict != null)
                .Select(a => new
                {
                    a.StudentId,
                    a.DrillVersion.Slug,
                    a.Verdict,
                    a.LatestReport!.Report,
                })
                .ToListAsync(Cancel)
        );
        Assert.Equal(
            flown
                .GroupBy(f => f.Slug)
                .OrderBy(g => g.Key, StringComparer.Ordinal)
                .Select(g => (g.Key, g.Select(f => f.StudentId).Distinct().Count(), g.Count(), g.Count(f => f.Verdict == Verdict.NotMet))),
            period
                .Drills.OrderBy(d => d.DrillSlug, StringComparer.Ordinal)
                .Select(d => (d.DrillSlug, d.Students, d.Share.Attempts, d.Share.NotMet))
        );
        Assert.Equal(flown.Count, period.Aircraft.Sum(a => a.Share.Attempts));
        var segments =
            from attempt in flown.Select((f, n) => (f.Report, Number: n))
            from segment in attempt.Report.Segments
            where segment.Status != SegmentStatus.Skipped
            from deviation in segment.Deviations
            where deviation.Verdict != Verdict.NotMeasured
            group (attempt.Number, deviation.Verdict) by (segment.Kind, deviation.Parameter) into found
            orderby found.Key
            select (
                found.Key.Kind,
                found.Key.Parameter,
                found.Select(f => f.Number).Distinct().Count(),
                found.Count(),
                found.Count(f => f.Verdict == Verdict.NotMet)
            );
        Assert.Equal(
            segments,
            period
                .Segments.OrderBy(s => (s.SegmentKind, s.Parameter))
                .Select(s => (s.SegmentKind, s.Parameter, s.Share.Attempts, s.Segments, s.Share.NotMet))
        );
        Assert.Equal(
            flown.Count(f => f.StudentId == app.IdOf(SchoolsFixture.Student)),
            overview.Students.Single(s => s.StudentId == app.IdOf(SchoolsFixture.Student)).Attempts
        );
    }

    private async Task<Guid> FlownAsync(string student, Random random)
    {
        var (drill, recording) = random.Next(2) == 0 ? ("timed-turns", "f13.csv") : ("racetrack", "f12.csv");
        var assignment = await app.AssignAsync(drill, student);
        var meta = new AttemptMeta { Aircraft = random.Next(2) == 0 ? "tussock-two" : null };
        var attemptId = await app.UploadAsync(assignment.Id, recording, meta, student);
        await app.ScoreAsync(attemptId);
        // Flown again, the one before need not be graded.
        if (random.Next(3) == 0)
            await app.UploadAsync(assignment.Id, recording == "f13.csv" ? "f12.csv" : "f13.csv", meta, student);
        return attemptId;
    }

    /// <summary>
    /// Another verdict, day or end as a newer engine would find it, a correction set or undone, a signature, its reading.
    /// </summary>
    private async Task ChangeAsync(Guid attemptId, string[] names, Random random)
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var attempt = await instructor.AttemptAsync(attemptId, Cancel);
        switch (random.Next(7))
        {
            case 0:
                Verdict?[] verdicts = [Verdict.Met, Verdict.Close, Verdict.NotMet, Verdict.NotMeasured, null];
                await SetAsync(attemptId, verdicts[random.Next(5)], DateTimeOffset.UtcNow.AddHours(-random.Next(5000)));
                break;
            case 1 when attempt.Grade is null:
                await instructor.SaveGradeAsync(attemptId, new SaveGrade("to-standard", [], null, random.Next(3) > 0), Cancel);
                break;
            case 4:
                var status = random.Next(2) == 0 ? AttemptStatus.Unscorable : AttemptStatus.Scored;
                await app.QueryAsJobAsync(db =>
                    db.Attempts.Where(a => a.Id == attemptId).ExecuteUpdateAsync(a => a.SetProperty(x => x.Status, status), Cancel)
                );
                break;
            case 5 when attempt.Grade is { SignedAtUtc: not null, AcknowledgedAtUtc: null }:
                var student = names.Single(n => app.IdOf(n) == attempt.StudentId);
                await (await app.AsAsync(student)).AcknowledgeGradeAsync(attemptId, new("Read."), Cancel);
                break;
            case 6 when attempt.Grade is { SignedAtUtc: not null }:
                await instructor.AmendGradeAsync(attemptId, new("to-standard", [], "Seen again.", "A slip of the pen."), Cancel);
                break;
            case 2 when attempt.EngineScore is not null:
                await instructor.UndoBoundariesAsync(attemptId, attempt.Revision, Cancel);
                await app.ScoreAsync(attemptId);
                break;
            default:
                var laterUtc = (attempt.EngineScore ?? attempt.Score)!.Segments[1].StartUtc!.Value.AddSeconds(random.Next(2, 7));
                await instructor.SetBoundariesAsync(
                    attemptId,
                    new PutBoundaries([new ManualBoundary(1, laterUtc)], Reason: "He began late."),
                    Cancel
                );
                await app.ScoreAsync(attemptId);
                break;
        }
    }

    private async Task EraseAsync(string student)
    {
        var id = app.IdOf(student);
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        await chief.SaveRecordSettingsAsync(new RecordSettings(false, ["us-instructor"], 0), Cancel);
        await chief.DeactivateAsync(id, Cancel);
        var thenUtc = DateTimeOffset.UtcNow.AddYears(-10);
        await app.QueryAsJobAsync(db =>
            db.Attempts.Where(a => a.StudentId == id).ExecuteUpdateAsync(a => a.SetProperty(x => x.FlownAtUtc, thenUtc), Cancel)
        );
        await app.QueryAccountsAsync(db =>
            db.People.Where(p => p.Id == id).ExecuteUpdateAsync(p => p.SetProperty(x => x.LeftAtUtc, thenUtc), Cancel)
        );
        await chief.ErasePersonAsync(id, $"The {student}", Cancel);
    }

    private Task<int> SetAsync(Guid attemptId, Verdict? verdict, DateTimeOffset flownAtUtc) =>
        app.QueryAsJobAsync(db =>
            db.Attempts.Where(a => a.Id == attemptId)
                .ExecuteUpdateAsync(a => a.SetProperty(x => x.Verdict, verdict).SetProperty(x => x.FlownAtUtc, flownAtUtc), Cancel)
        );

    private async Task SetZoneAsync(string zone)
    {
        await using var owner = await RawSql.OpenAsync(app.Database.Access.Owner);
        await owner.SetAsync("app.school_id", app.TussockId);
        await owner.ExecuteAsync($"update schools set time_zone = '{zone}' where id = '{app.TussockId}'");
    }

    /// <summary>The tallies as they stand; they are what they are once they are made anew.</summary>
    private async Task<List<string>> RebuildSaysTheSameAsync()
    {
        await using var owner = await RawSql.OpenAsync(app.Database.Access.Owner);
        await owner.SetAsync("app.school_id", app.TussockId);
        var kept = await RowsAsync();
        await owner.ExecuteAsync("select tally.rebuild()");
        Assert.Equal(await RowsAsync(), kept);
        return kept;

        Task<List<string>> RowsAsync() =>
            owner.ReadAsync(
                """
                select concat_ws('|', dimension, key, day, attempts, items, not_met, students) from day_tallies
                  where (attempts, items, not_met, students) <> (0, 0, 0, 0)
                union all
                select concat_ws('|', student_id, dimension, key, attempts, not_met, last_flown_at_utc) from student_tallies
                  where (attempts, not_met) <> (0, 0)
                union all
                select concat_ws('|', student_id, attempts, last_flown_at_utc, to_grade, waiting_since_utc) from student_summaries
                  where (attempts, to_grade) <> (0, 0)
                union all
                select concat_ws('|', 'flown', id) from assignments where flown
                union all
                select concat_ws('|', 'unread', id, unread_since_utc) from attempts where unread_since_utc is not null
                order by 1
                """
            );
    }
}
