using Microsoft.Extensions.Configuration;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Api.Rescoring;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Api.Tests.Upgrades;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Api.Tests.Rescoring;

/// <summary>The school of the first version, scored by engine 1.2.0, is rescored by this one.</summary>
public sealed class OldEngineTests(FirstSchoolFixture app) : IClassFixture<FirstSchoolFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_first_engines_scores_are_counted_rescored_after_a_kill_in_the_middle_and_told_and_grades_keep_theirs()
    {
        var chief = await app.AsAsync("chief");
        var schoolId = (await chief.MeAsync(Cancel)).School.Id;
        var before = (await chief.AttemptsAsync(ct: Cancel)).Items.ToDictionary(a => a.AttemptId);
        var graded = Assert.Single(before.Values, a => a.GradeState == "acknowledged");
        var grade = (await chief.AttemptAsync(graded.AttemptId, Cancel)).Grade!;

        var standing = await chief.RescoringAsync(ct: Cancel);
        Assert.Equal(AttemptScorer.EngineVersion, standing.EngineVersion);
        Assert.Equal(new OlderScores("1.2.0", 3), Assert.Single(standing.Older));
        Assert.Equal((3, null), (standing.WouldChoose, standing.Newest));
        // Of the two students one flew two; f13 was flown on 17 January, f12 later; there are three drills.
        Assert.Equal(1, await CountAsync(new(DrillSlug: "racetrack")));
        Assert.Equal(2, await CountAsync(new(StudentId: graded.StudentId)));
        Assert.Equal(0, await CountAsync(new(EngineVersion: "1.1.0")));
        var flownOn = DateOnly.FromDateTime(graded.FlownAtUtc!.Value.UtcDateTime);
        Assert.Equal(0, await CountAsync(new(FlownTo: flownOn.AddYears(-1))));
        Assert.Equal(3, await CountAsync(new(FlownFrom: flownOn.AddYears(-1), FlownTo: flownOn.AddYears(1))));

        // Whoever looks after the server asks for it; the host's sweep begins.
        var configuration = new ConfigurationBuilder()
            .AddInMemoryCollection([new("ConnectionStrings:SchoolDrills", app.Database.OwnerConnectionString)])
            .Build();
        await Assert.ThrowsAsync<StartupRefusedException>(() => RescoreCommand.RunAsync(configuration, "No such school"));
        Assert.Null((await chief.RescoringAsync(ct: Cancel)).Newest);
        await RescoreCommand.RunAsync(configuration, "Old Ridge Flying School");
        var run = (await chief.RescoringAsync(ct: Cancel)).Newest!;
        Assert.Equal((3, 0, null, null), (run.Chosen, run.Done, run.StartedBy, run.EndedAtUtc));
        await Portions.SweepAsync(app);

        await Portions.DoAsync(app, run.Id, schoolId, most: 1);
        Assert.Equal((1, null), await DoneAsync());
        // The next worker goes on where the killed one was; those done are not done again.
        await Portions.DoAsync(app, run.Id, schoolId);
        var (done, ended) = await DoneAsync();
        Assert.Equal((3, true), (done, ended is not null));

        var after = (await chief.AttemptsAsync(ct: Cancel)).Items.ToDictionary(a => a.AttemptId);
        var differing = before.Keys.Where(id => Shown(before[id]) != Shown(after[id])).Order();
        var told = await chief.RescoredAsync(ct: Cancel);
        Assert.Equal(differing, told.Items.Select(i => i.AttemptId).Order());
        Assert.All(
            told.Items,
            i =>
            {
                Assert.Equal(("1.2.0", null), (i.EngineBefore, i.Failure));
                Assert.Equal((before[i.AttemptId].Verdict, before[i.AttemptId].WithinShare), (i.VerdictBefore, i.WithinShareBefore));
                Assert.Equal((after[i.AttemptId].Verdict, after[i.AttemptId].WithinShare), (i.VerdictNow, i.WithinShareNow));
            }
        );

        var rescored = await chief.AttemptAsync(graded.AttemptId, Cancel);
        Assert.Equal(AttemptScorer.EngineVersion, rescored.Score!.EngineVersion);
        Assert.Equal((grade.Overall, grade.ReportId), (rescored.Grade!.Overall, rescored.Grade.ReportId));
        Assert.NotEqual(rescored.ReportId, rescored.Grade.ReportId);
        using var http = await app.HttpAsync("chief");
        var report = await http.GetStringAsync($"/api/v1/attempts/{graded.AttemptId}/reports/{grade.ReportId}", Cancel);
        Assert.Contains("\"engineVersion\":\"1.2.0\"", report, StringComparison.Ordinal);
        Assert.Empty((await chief.RescoringAsync(ct: Cancel)).Older);

        await using var owner = await RawSql.OpenAsync(app.Database.OwnerConnectionString);
        Assert.Equal(4L, await owner.ScalarAsync("select count(*) from score_reports where engine_version = '1.2.0'"));
        Assert.Equal(
            ["rescoring-started", "rescoring-ended"],
            await owner.ReadAsync("select action from audit_entries where subject = 'rescoring' order by id")
        );

        async Task<int> CountAsync(RescoringChoice choice) => (await chief.RescoringAsync(choice, Cancel)).WouldChoose;

        async Task<(int, DateTimeOffset?)> DoneAsync() =>
            (await chief.RescoringAsync(ct: Cancel)).Newest is { } now ? (now.Done, now.EndedAtUtc) : default;
    }

    private static (Verdict?, string?) Shown(AttemptSummary attempt) =>
        (attempt.Verdict, attempt.WithinShare is { } share ? ParameterFormat.Percent(share) : null);
}
