using System.Net;
using Npgsql;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.People;

/// <summary>What a person of the school sees of it: in the API, and in the database behind it.</summary>
public sealed class SightTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static readonly string[] TablesOfWork =
    [
        "assignments",
        "attempts",
        "attempt_events",
        "grades",
        "load_ratings",
        "score_reports",
        "segment_results",
        "track_files",
    ];

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task An_instructor_sees_the_whole_school_until_the_school_shows_instructors_their_own_students_alone()
    {
        var attemptId = await app.ScoredAsync("timed-turns", "f13.csv");
        var student = app.IdOf(SchoolsFixture.Student);
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var (theirs, other) = (await app.AsAsync(SchoolsFixture.Instructor), await app.NewcomerAsync("new-instructor", Roles.Instructor));
        var draft = await theirs.SaveGradeAsync(attemptId, new SaveGrade("to-standard", [], "Well flown.", false), Cancel);
        await other.AttemptAsync(attemptId, Cancel);

        await chief.SaveRecordSettingsAsync(new RecordSettings(true, [], 0), Cancel);
        foreach (
            var deed in (Func<Task>[])
                [
                    () => other.AttemptAsync(attemptId, Cancel),
                    () => other.TrackAsync(attemptId, Cancel),
                    () => other.ProgressAsync(student, Cancel),
                    () => other.AttemptsAsync(student, ct: Cancel),
                    () => other.AssignmentsAsync(student, ct: Cancel),
                    () => other.TrainingRecordAsync(student, Cancel),
                    () => other.SaveGradeAsync(attemptId, new SaveGrade("not-yet", [], null, true, draft.Revision), Cancel),
                ]
        )
        {
            await Refusals.RefusedAsync(HttpStatusCode.NotFound, deed);
        }

        Assert.Empty((await other.AttemptsAsync(ct: Cancel)).Items);
        Assert.Empty(await other.AssignmentsAsync(ct: Cancel));
        // Names are there to assign to, addresses are not.
        Assert.Equal("", Assert.Single(await other.PeopleAsync(Roles.Student, Cancel), p => p.Id == student).Email);
        await theirs.AttemptAsync(attemptId, Cancel);
        await theirs.ProgressAsync(student, Cancel);
        await chief.AttemptAsync(attemptId, Cancel);

        // Giving a drill to a student makes the student one's own.
        await other.AssignAsync(new CreateAssignment([student], "racetrack", null), Cancel);
        await other.AttemptAsync(attemptId, Cancel);
        await chief.SaveRecordSettingsAsync(new RecordSettings(false, [], 0), Cancel);
    }

    [Fact]
    public async Task A_raw_query_in_a_students_name_sees_the_students_work_alone_in_every_table_of_work()
    {
        var mine = await app.ScoredAsync("timed-turns", "f13.nmea");
        await (await app.AsAsync(SchoolsFixture.Instructor)).SaveGradeAsync(mine, new SaveGrade("to-standard", [], null, true), Cancel);
        await app.QueryAsync(async db =>
        {
            db.AttemptEvents.Add(
                new Api.Attempts.AttemptEventRow
                {
                    AttemptId = mine,
                    Id = Guid.NewGuid(),
                    SchoolId = app.TussockId,
                    Kind = "mark",
                    AtUtc = DateTimeOffset.UnixEpoch,
                }
            );
            db.LoadRatings.Add(
                new Api.Attempts.LoadRatingRow
                {
                    AttemptId = mine,
                    Number = 1,
                    SchoolId = app.TussockId,
                    Rating = 2,
                }
            );
            return await db.SaveChangesAsync(Cancel);
        });
        await using var connection = new NpgsqlConnection(app.Database.Access.App);
        await connection.OpenAsync(Cancel);
        foreach (var table in TablesOfWork)
        {
            Assert.Equal((table, true), (table, await CountAsync(connection, table, SchoolsFixture.Student, "self") > 0));
            Assert.Equal((table, 0L), (table, await CountAsync(connection, table, SchoolsFixture.OtherStudent, "self")));
            Assert.Equal((table, 0L), (table, await CountAsync(connection, table, SchoolsFixture.SecondInstructor, "own-students")));
            Assert.Equal((table, true), (table, await CountAsync(connection, table, SchoolsFixture.Instructor, "own-students") > 0));
            Assert.Equal((table, true), (table, await CountAsync(connection, table, SchoolsFixture.SecondInstructor, "school") > 0));
        }
    }

    [Fact]
    public async Task Every_table_of_students_work_has_its_rule_of_sight()
    {
        await using var owner = new NpgsqlConnection(app.Database.Access.Owner);
        await owner.OpenAsync(Cancel);
        await using var command = new NpgsqlCommand(
            """
            select c.relname from pg_class c
            where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p')
              and exists (select from pg_attribute a where a.attrelid = c.oid and a.attname in ('student_id', 'attempt_id') and not a.attisdropped)
              and not exists (select from pg_policy p where p.polrelid = c.oid and p.polname = 'sight' and not p.polpermissive)
            """,
            owner
        );
        await using var reader = await command.ExecuteReaderAsync(Cancel);
        Assert.False(await reader.ReadAsync(Cancel));
    }

    [Fact]
    public async Task Two_schools_at_once_on_few_connections_never_see_each_other()
    {
        var (here, there) = (await app.AsAsync(SchoolsFixture.Chief), await app.AsAsync(SchoolsFixture.FarChief));
        var seen = await Task.WhenAll(
            Enumerable.Range(0, 60).Select(async i => (i, People: await (i % 2 == 0 ? here : there).PeopleAsync(ct: Cancel)))
        );
        Assert.All(seen, s => Assert.Equal(s.i % 2 == 0, s.People.Any(p => p.Id == app.IdOf(SchoolsFixture.Chief))));
        Assert.All(seen, s => Assert.Equal(s.i % 2 == 1, s.People.Any(p => p.Id == app.IdOf(SchoolsFixture.FarChief))));
    }

    private async Task<long> CountAsync(NpgsqlConnection connection, string table, string person, string sight)
    {
        await using var command = new NpgsqlCommand(
            $"select set_config('app.school_id', $1, false), set_config('app.person_id', $2, false), set_config('app.sight', $3, false)",
            connection
        )
        {
            Parameters =
            {
                new() { Value = app.TussockId.ToString() },
                new() { Value = app.IdOf(person).ToString() },
                new() { Value = sight },
            },
        };
        await command.ExecuteNonQueryAsync(Cancel);
        await using var count = new NpgsqlCommand($"select count(*) from {table}", connection);
        return (long)(await count.ExecuteScalarAsync(Cancel))!;
    }
}
