using Npgsql;
using Xunit;

namespace SchoolDrills.Api.Tests.Data;

/// <summary>What each role that serves may do at all, tried by raw SQL with rows to be found.</summary>
public sealed class DatabaseRightsTests(VisibilityTests.StudentAtWork app) : IClassFixture<VisibilityTests.StudentAtWork>
{
    private static readonly string[] Secrets =
    [
        "api_tokens",
        "credentials",
        "data_protection_keys",
        "entry_links",
        "first_run_tokens",
        "sessions",
        "sign_in_failures",
    ];

    /// <summary>What stays as it was written; all hold a row of the student's.</summary>
    private static readonly string[] Unchanging =
    [
        "attempt_corrections",
        "attempts",
        "audit_entries",
        "grade_acknowledgements",
        "grades",
        "score_reports",
        "segment_results",
        "tolerance_standards",
        "track_files",
        "track_plots",
    ];

    [Fact]
    public async Task Secrets_are_read_by_the_role_of_accounts_alone()
    {
        await using var accounts = await RawSql.OpenAsync(app.Database.Access.Accounts);
        await accounts.EnterAsync(app.TussockId, null, "none");
        Assert.True(await accounts.CountAsync("credentials where password_hash is not null") > 0);
        foreach (var connectionString in (string[])[app.Database.Access.App, app.Database.Access.Jobs])
        {
            await using var raw = await RawSql.OpenAsync(connectionString);
            await raw.EnterAsync(app.TussockId, app.IdOf(SchoolsFixture.Chief), "whole-school");
            foreach (var table in Secrets)
                await raw.RefusesAsync($"select count(*) from {table}");
        }
    }

    [Fact]
    public async Task No_column_that_opens_an_account_stands_in_a_table_that_requests_or_jobs_can_read()
    {
        await using var owner = await RawSql.OpenAsync(app.Database.Access.Owner);
        Assert.Empty(
            await owner.ReadAsync(
                """
                select c.relname || '.' || a.attname from pg_class c join pg_attribute a on a.attrelid = c.oid and a.attnum > 0
                where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p')
                  and a.attname ~ '(hash|secret|stamp|_key$|password|token)'
                  and (has_column_privilege('schooldrills_app', c.oid, a.attnum, 'select')
                    or has_column_privilege('schooldrills_jobs', c.oid, a.attnum, 'select'))
                """
            )
        );
    }

    [Fact]
    public async Task The_role_of_accounts_reads_no_students_work()
    {
        await using var raw = await RawSql.OpenAsync(app.Database.Access.Accounts);
        await raw.EnterAsync(app.TussockId, app.IdOf(SchoolsFixture.Chief), "whole-school");
        foreach (var table in VisibilityTests.Covered)
            await raw.RefusesAsync($"select * from {table}");
    }

    [Fact]
    public async Task No_role_that_serves_deletes_what_must_be_kept()
    {
        foreach (var connectionString in (string[])[app.Database.Access.App, app.Database.Access.Jobs, app.Database.Access.Accounts])
        {
            await using var raw = await RawSql.OpenAsync(connectionString);
            await raw.EnterAsync(app.TussockId, app.IdOf(SchoolsFixture.Chief), "whole-school");
            foreach (var table in (string[])[.. Unchanging, "assignments", "flight_logs", "self_assessments", "schools"])
            {
                await raw.RefusesAsync($"delete from {table}");
                await raw.RefusesAsync($"truncate {table} cascade");
            }
        }
    }

    [Fact]
    public async Task Of_events_only_copies_of_a_flights_log_are_deleted()
    {
        await using var raw = await RawSql.OpenAsync(app.Database.Access.App);
        await raw.EnterAsync(app.TussockId, app.IdOf(SchoolsFixture.Chief), "whole-school");
        Assert.True(await raw.CountAsync("attempt_events where flight_log_id is null") > 0);
        Assert.Equal(0, await raw.ExecuteAsync("delete from attempt_events where flight_log_id is null"));
        await raw.RefusesAsync("truncate attempt_events");
        await using var jobs = await RawSql.OpenAsync(app.Database.Access.Jobs);
        await jobs.EnterAsync(app.TussockId, null, "jobs");
        Assert.Equal(0, await jobs.ExecuteAsync("delete from attempt_events where flight_log_id is null"));
        await jobs.RefusesAsync("truncate attempt_events");
    }

    [Fact]
    public async Task Even_the_owner_deletes_no_attempt_report_recording_or_signed_grade()
    {
        await using var owner = await RawSql.OpenAsync(app.Database.Access.Owner);
        await owner.SetAsync("app.school_id", app.TussockId);
        foreach (var table in Unchanging)
        {
            Assert.True(await owner.CountAsync(table) > 0, table);
            await owner.RefusesAsync($"delete from {table}");
            await owner.RefusesAsync($"truncate {table} cascade");
        }

        await owner.RefusesAsync($"delete from people where id = '{app.IdOf(SchoolsFixture.Student)}'");
        await owner.RefusesAsync("delete from drill_versions where state <> 'draft'");
    }

    [Fact]
    public async Task A_student_reads_of_the_audit_trail_what_concerns_him()
    {
        await using var raw = await RawSql.OpenAsync(app.Database.Access.App);
        var student = app.IdOf(SchoolsFixture.Student);
        await raw.EnterAsync(app.TussockId, student, "self");
        Assert.True(await raw.CountAsync("audit_entries") > 0);
        Assert.Equal(0L, await raw.CountAsync($"audit_entries where person_id is distinct from '{student}' and subject_id <> '{student}'"));
        await raw.EnterAsync(app.TussockId, app.IdOf(SchoolsFixture.Chief), "whole-school");
        Assert.True(await raw.CountAsync($"audit_entries where person_id is distinct from '{student}' and subject_id <> '{student}'") > 0);
    }

    [Fact]
    public async Task Nobody_writes_the_audit_trail_in_anothers_name()
    {
        var (chief, student) = (app.IdOf(SchoolsFixture.Chief), app.IdOf(SchoolsFixture.Student));
        await using var raw = await RawSql.OpenAsync(app.Database.Access.App);
        await raw.EnterAsync(app.TussockId, chief, "whole-school");
        Assert.Equal(1, await raw.ExecuteAsync(EntryBy($"'{chief}'")));
        await raw.RefusesAsync(EntryBy($"'{student}'"));
        await raw.RefusesAsync(EntryBy("null"));
        await using var jobs = await RawSql.OpenAsync(app.Database.Access.Jobs);
        await jobs.EnterAsync(app.TussockId, null, "jobs");
        Assert.Equal(1, await jobs.ExecuteAsync(EntryBy("null")));
        await jobs.RefusesAsync(EntryBy($"'{chief}'"));

        string EntryBy(string person) =>
            "insert into audit_entries (school_id, at_utc, person_id, action, subject, subject_id, changes) "
            + $"values ('{app.TussockId}', now(), {person}, 'tried', 'school', '{app.TussockId}', '[]')";
    }

    [Fact]
    public async Task Requests_change_nobodys_account_and_no_score()
    {
        await using var raw = await RawSql.OpenAsync(app.Database.Access.App);
        await raw.EnterAsync(app.TussockId, app.IdOf(SchoolsFixture.Chief), "whole-school");
        await raw.RefusesAsync("update people set roles = '{chief}'");
        await raw.RefusesAsync("delete from people");
        await raw.RefusesAsync("update attempts set within_share = 1, verdict = 'met'");
        await raw.RefusesAsync("update attempts set student_id = uploaded_by_id");
        await raw.RefusesAsync("update score_reports set report = '{}'");
        await raw.RefusesAsync($"insert into schools (id, name) values (gen_random_uuid(), 'x')");
    }

    [Fact]
    public async Task A_student_grades_corrects_and_assigns_nothing_not_even_to_himself()
    {
        var student = app.IdOf(SchoolsFixture.Student);
        await using var raw = await RawSql.OpenAsync(app.Database.Access.App);
        await raw.EnterAsync(app.TussockId, student, "self");
        await raw.RefusesAsync(
            "insert into grades (id, school_id, attempt_id, number, instructor_id, overall, segments, saved_at_utc, signed_at_utc) "
                + $"values (gen_random_uuid(), '{app.TussockId}', '{app.AttemptId}', 7, '{student}', 'to-standard', '[]', now(), now())"
        );
        await raw.RefusesAsync(
            "insert into attempt_corrections (attempt_id, revision, school_id, person_id, at_utc, undone, by_hand) "
                + $"values ('{app.AttemptId}', 99, '{app.TussockId}', '{student}', now(), false, '{{}}')"
        );
        await raw.RefusesAsync(
            "insert into assignments (id, school_id, student_id, drill_version_id, assigned_by_id, assigned_at_utc) "
                + $"select gen_random_uuid(), school_id, '{student}', id, '{student}', now() from drill_versions limit 1"
        );
        Assert.Equal(0, await raw.ExecuteAsync("update assignments set cancelled_at_utc = now()"));
    }

    [Fact]
    public async Task Only_a_chief_has_a_person_erased_and_never_one_whose_account_is_open()
    {
        await using var raw = await RawSql.OpenAsync(app.Database.Access.App);
        var erase = $"select erasure.erase_person('{app.IdOf(SchoolsFixture.OtherStudent)}', 'Former student')";
        foreach (
            var (person, visibility) in ((string, string)[])
                [(SchoolsFixture.OtherStudent, "self"), (SchoolsFixture.Instructor, "whole-school")]
        )
        {
            await raw.EnterAsync(app.TussockId, app.IdOf(person), visibility);
            Assert.Equal("Only a chief of the school may have a person erased.", await RefusalAsync());
        }

        await raw.EnterAsync(app.TussockId, app.IdOf(SchoolsFixture.Chief), "whole-school");
        Assert.Equal("The account of this person is open: close it first.", await RefusalAsync());

        async Task<string> RefusalAsync() => (await Assert.ThrowsAsync<PostgresException>(() => raw.ExecuteAsync(erase))).MessageText;
    }
}
