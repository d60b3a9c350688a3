using System.Net;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Data;

/// <summary>What a person of the school sees of it: in the API, and in the database behind it.</summary>
public sealed partial class VisibilityTests(VisibilityTests.StudentAtWork app) : IClassFixture<VisibilityTests.StudentAtWork>
{
    /// <summary>Tables of students' work; any other one is exempt, for the reason beside it.</summary>
    internal static readonly string[] Covered =
    [
        "assignment_plans",
        "assignments",
        "attempt_corrections",
        "attempt_events",
        "attempts",
        "audit_entries",
        "flight_logs",
        "grade_acknowledgements",
        "grades",
        "load_ratings",
        "notices",
        "pending_tracks",
        "rescoring_items",
        "score_reports",
        "segment_results",
        "self_assessments",
        "student_notes",
        "student_summaries",
        "student_tallies",
        "track_files",
        "track_plots",
    ];

    private static readonly Dictionary<string, string> Exempt = new()
    {
        ["__EFMigrationsHistory"] = "the installation's; no role that serves has access",
        ["aircraft_profiles"] = "the school's, for everybody there",
        ["api_tokens"] = "secrets; the accounts' role alone has access",
        ["column_mappings"] = "the school's memory of file headers, read at everybody's upload",
        ["credentials"] = "secrets; the accounts' role alone has access",
        ["data_protection_keys"] = "secrets; the accounts' role alone has access",
        ["day_tallies"] = "counts of the whole school; the API shows them to the chief",
        ["drill_draft_revisions"] = "no student's work; the API shows drafts to those who may draft",
        ["drill_examples"] = "a plot without name, day or place, for the school's students to lay over theirs",
        ["drill_versions"] = "the school's, for everybody there",
        ["entry_links"] = "secrets; the accounts' role alone has access",
        ["first_run_tokens"] = "secrets; the accounts' role alone has access",
        ["people"] = "names stand beside work: who assigned, uploaded, corrected, graded",
        ["practice_areas"] = "the school's, for everybody there",
        ["rescorings"] = "counts of the whole school; the API shows them to the chief",
        ["schools"] = "the school itself",
        ["scoring_claims"] = "keys of what is being scored; the functions of 30-lookup.sql alone have access",
        ["sessions"] = "secrets; the accounts' role alone has access",
        ["sign_in_failures"] = "the accounts' role alone has access",
        ["tolerance_standards"] = "the school's, for everybody there",
    };

    /// <summary>Anything but the words that the policies know, for the app's role.</summary>
    private static readonly string[] WrongWords =
    [
        "",
        .. "none jobs school Self SELF WHOLE-SCHOOL whole_school wholeschool own-student true 1 * %".Split(' '),
        " whole-school",
        "whole-school ",
        "whole-school\n",
        "whole-school' or 'a'='a",
        "self' then true else true end --",
        "'; drop table attempts; --",
        "whole-schооl", // two letters of another alphabet
    ];

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Every_table_of_the_schema_is_covered_or_exempt_for_a_reason()
    {
        await using var owner = await RawSql.OpenAsync(app.Database.Access.Owner);
        Assert.Equal(Covered.Concat(Exempt.Keys).Order(StringComparer.Ordinal), (await owner.TablesAsync()).Order(StringComparer.Ordinal));
        Assert.Equal(
            Covered,
            (
                await owner.ReadAsync("select tablename from pg_policies where policyname = 'visibility' and permissive = 'RESTRICTIVE'")
            ).Order(StringComparer.Ordinal)
        );
    }

    [Fact]
    public async Task A_raw_query_sees_what_the_viewer_may_see_in_every_table_of_work()
    {
        await using var raw = await RawSql.OpenAsync(app.Database.Access.App);
        foreach (var table in Covered)
        {
            // A recording that waits is its sender's, and of the trail all see what they did themselves; the chief sees all of both.
            // A notice is its reader's.
            var isPersonal = table is "pending_tracks" or "audit_entries" or "notices";
            // What instructors noted on a student is theirs among themselves.
            Assert.Equal((table, table != "student_notes"), (table, await SeesAsync(SchoolsFixture.Student, "self")));
            Assert.Equal((table, false), (table, await SeesAsync(SchoolsFixture.OtherStudent, "self")));
            Assert.Equal((table, false), (table, await SeesAsync(SchoolsFixture.SecondInstructor, "own-students")));
            Assert.Equal((table, table != "pending_tracks"), (table, await SeesAsync(SchoolsFixture.Instructor, "own-students")));
            Assert.Equal((table, !isPersonal), (table, await SeesAsync(SchoolsFixture.SecondInstructor, "whole-school")));
            Assert.Equal((table, table != "notices"), (table, await SeesAsync(SchoolsFixture.Chief, "whole-school")));

            async Task<bool> SeesAsync(string person, string visibility)
            {
                await raw.EnterAsync(app.TussockId, app.IdOf(person), visibility);
                return await raw.CountAsync(table) > 0;
            }
        }
    }

    [Fact]
    public async Task Without_a_word_that_the_policies_know_nothing_is_seen_or_changed_in_any_table_of_work()
    {
        // Even in the name of those who may see all of it.
        foreach (var person in (string[])[SchoolsFixture.Chief, SchoolsFixture.Student])
        {
            await using var raw = await RawSql.OpenAsync(app.Database.Access.App);
            await raw.SetAsync("app.school_id", app.TussockId);
            await raw.SetAsync("app.person_id", app.IdOf(person));
            await NothingAsync(raw, "never set");
            foreach (var word in WrongWords)
            {
                await raw.SetAsync("app.visibility", word);
                await NothingAsync(raw, word);
            }

            await raw.SetAsync("app.visibility", "whole-school");
            await raw.ExecuteAsync("reset app.visibility");
            await NothingAsync(raw, "reset");
        }

        static async Task NothingAsync(RawSql raw, string word)
        {
            foreach (var table in Covered)
            {
                Assert.Equal((word, table, 0L), (word, table, await raw.CountAsync(table)));
                if (await raw.ScalarAsync($"select has_table_privilege('{table}', 'update')") is true)
                    Assert.Equal((word, table, 0), (word, table, await raw.ExecuteAsync($"update {table} set school_id = school_id")));
            }
        }
    }

    [Fact]
    public async Task Jobs_see_a_schools_work_under_their_own_word_alone()
    {
        await using var raw = await RawSql.OpenAsync(app.Database.Access.Jobs);
        var readable = await raw.ReadAsync(
            "select relname from pg_class where relnamespace = 'public'::regnamespace and has_any_column_privilege(oid, 'select')"
        );
        readable.RemoveAll(table => !Covered.Contains(table));
        Assert.Contains("attempts", readable);
        foreach (var word in (string[])[.. WrongWords.Where(w => w != "jobs"), "self", "own-students", "whole-school", "Jobs", "JOBS"])
        {
            await raw.EnterAsync(app.TussockId, app.IdOf(SchoolsFixture.Chief), word);
            foreach (var table in readable)
                Assert.Equal((word, table, 0L), (word, table, await raw.CountAsync(table)));
        }

        await raw.EnterAsync(app.TussockId, null, "jobs");
        foreach (var table in readable)
            Assert.Equal((table, true), (table, await raw.CountAsync(table) > 0));
    }

    [Fact]
    public async Task A_student_cannot_read_the_draft_of_a_grade()
    {
        var attemptId = await app.ScoredAsync("racetrack", "f12.csv");
        await (await app.AsAsync(SchoolsFixture.Instructor)).SaveGradeAsync(attemptId, new SaveGrade("not-yet", [], "Hm.", false), Cancel);
        await using var raw = await RawSql.OpenAsync(app.Database.Access.App);
        await raw.EnterAsync(app.TussockId, app.IdOf(SchoolsFixture.Student), "self");
        Assert.Equal(0L, await raw.CountAsync($"grades where attempt_id = '{attemptId}'"));
        await raw.EnterAsync(app.TussockId, app.IdOf(SchoolsFixture.Instructor), "own-students");
        Assert.Equal(1L, await raw.CountAsync($"grades where attempt_id = '{attemptId}'"));
    }

    [Fact]
    public async Task A_student_cannot_write_work_in_anothers_name()
    {
        await using var raw = await RawSql.OpenAsync(app.Database.Access.App);
        await raw.EnterAsync(app.TussockId, app.IdOf(SchoolsFixture.OtherStudent), "self");
        await raw.RefusesAsync(
            $"insert into attempt_events (attempt_id, id, school_id, kind, at_utc) values ('{app.AttemptId}', "
                + $"gen_random_uuid(), '{app.TussockId}', 'mark', now())"
        );
        await raw.RefusesAsync(
            "insert into pending_tracks (id, school_id, person_id, sent_at_utc, file_name, file_bytes, "
                + $"start_utc, end_utc, meta, content) values (gen_random_uuid(), '{app.TussockId}', "
                + $"'{app.IdOf(SchoolsFixture.Student)}', now(), 'x', 0, now(), now(), '{{}}', '')"
        );
    }

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
            var request in (Func<Task>[])
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
            await Refusals.RefusedAsync(HttpStatusCode.NotFound, request);
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
    public async Task Two_schools_at_once_on_few_connections_never_see_each_other()
    {
        var (here, there) = (await app.AsAsync(SchoolsFixture.Chief), await app.AsAsync(SchoolsFixture.FarChief));
        var seen = await Task.WhenAll(
            Enumerable.Range(0, 60).Select(async i => (i, People: await (i % 2 == 0 ? here : there).PeopleAsync(ct: Cancel)))
        );
        Assert.All(seen, s => Assert.Equal(s.i % 2 == 0, s.People.Any(p => p.Id == app.IdOf(SchoolsFixture.Chief))));
        Assert.All(seen, s => Assert.Equal(s.i % 2 == 1, s.People.Any(p => p.Id == app.IdOf(SchoolsFixture.FarChief))));
    }
}
