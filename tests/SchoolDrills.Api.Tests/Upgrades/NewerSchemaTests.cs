using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Upgrades;

/// <summary>A host of this version beside one of the next, which has migrated the database under it.</summary>
public sealed class NewerSchemaTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    /// <summary>Each kind of change that a migration may make.</summary>
    private const string NextMigration = """
        begin;
        alter table attempts add column weather text;
        alter table grades add column seen_from text not null default 'the left seat';
        alter table audit_entries add column host text;
        alter table assignments add column colour text;
        create table kneeboards (id uuid primary key, school_id uuid not null, student_id uuid not null references people (id));
        alter table kneeboards enable row level security;
        alter table kneeboards force row level security;
        create policy school_isolation on kneeboards using (school_id = nullif(current_setting('app.school_id', true), '')::uuid);
        create index ix_attempts_weather on attempts (school_id, weather);
        insert into "__EFMigrationsHistory" values ('29990101000000_Kneeboards', '99.0.0');
        commit
        """;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_running_host_works_on_and_one_that_starts_anew_refuses_in_one_sentence()
    {
        // Often enough that every statement is prepared on some connection when the tables change under it.
        for (var round = 0; round < 3; round++)
            await JobAsync();
        await using var owner = await RawSql.OpenAsync(app.Database.OwnerConnectionString);
        await owner.ExecuteAsync(NextMigration);
        for (var round = 0; round < 3; round++)
            await JobAsync();

        Assert.Equal(6L, await owner.CountAsync("attempts"));
        Assert.Equal(6L, await owner.CountAsync("grades where seen_from = 'the left seat'"));
        var refusal = await Assert.ThrowsAsync<StartupRefusedException>(() => DatabaseSetup.PrepareAsync(app.Database.Access, ct: Cancel));
        Assert.Equal(
            "A newer SchoolDrills has changed this database (29990101000000_Kneeboards): start that version, "
                + "or restore a backup made before it.",
            refusal.Message
        );
        await JobAsync();
    }

    /// <summary>Sign-in, assignment, upload, score, grade and answer, and the lists that show them.</summary>
    private async Task JobAsync()
    {
        await app.SignInAsync(SchoolsFixture.SecondInstructor);
        var attemptId = await app.ScoredAsync("timed-turns", "f13.csv");
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var student = await app.AsAsync(SchoolsFixture.Student);
        await instructor.SaveGradeAsync(attemptId, new SaveGrade("to-standard", [], "Good scan.", Sign: true), Cancel);
        await student.AcknowledgeGradeAsync(attemptId, new AcknowledgeGrade("Thanks."), Cancel);
        Assert.Equal(AttemptStatus.Scored, (await student.AttemptAsync(attemptId, Cancel)).Status);
        Assert.Contains((await instructor.AttemptsAsync(ct: Cancel)).Items, a => a.AttemptId == attemptId);
        Assert.NotEmpty((await (await app.AsAsync(SchoolsFixture.Chief)).AuditAsync(ct: Cancel)).Items);
    }
}
