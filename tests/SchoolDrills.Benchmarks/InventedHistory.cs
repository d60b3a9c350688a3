using Npgsql;

namespace SchoolDrills.Benchmarks;

/// <summary>
/// Five years of an installation, invented row by row from its number: schools of 500 students named as such, their assignments,
/// attempts, short reports with six results each, grades, notices and audit entries. The demo school is the first of them.
/// For a throw-away database alone.
/// </summary>
internal sealed class InventedHistory(NpgsqlConnection owner, int schools)
{
    /// <summary>The first of the demo school's, whose own history is the same however much the others flew.</summary>
    public const string MeasuredStudent = "Invented student 001";

    /// <summary>
    /// Flown at the demo school by its first twenty alone, a page of students: so many pages are as full as ever they get.
    /// </summary>
    public const int Few = 1_000;

    private const int OwnAttempts = 100;

    private const int AtOnce = 250_000;

    /// <summary>Fills the database up to this many attempts, and counts and analyzes anew.</summary>
    public async Task FillAsync(int attempts)
    {
        // Rows are whole as they come: neither triggers nor foreign keys have to look at each.
        await RunAsync("begin; set local session_replication_role = replica");
        await RunAsync(People);
        await RunAsync(Attempts(1, Math.Min(attempts, Few), onlyDemoSchool: true));
        for (var from = Few + 1; from <= attempts; from += AtOnce)
            await RunAsync(Attempts(from, Math.Min(attempts, from + AtOnce - 1), onlyDemoSchool: false));
        await RunAsync("commit");
        await RunAsync(
            """
            do $$
            declare one uuid;
            begin
              for one in select school from invented_schools loop
                perform set_config('app.school_id', one::text, false);
                perform tally.rebuild();
              end loop;
            end $$
            """
        );
        await RunAsync("vacuum analyze");
    }

    private string People =>
        $"""
            create temporary table invented_schools as
              select n as k, case when n = 0 then s.id else md5('school ' || n)::uuid end as school
              from (select id from schools order by id limit 1) s, generate_series(0, {schools - 1}) as n;
            insert into schools
              select (jsonb_populate_record(s, jsonb_build_object('id', i.school, 'name', 'Invented school ' || i.k))).*
              from invented_schools i, schools s where i.k > 0 and s.id = (select school from invented_schools where k = 0);
            insert into drill_versions
              select (jsonb_populate_record(v, jsonb_build_object('id', md5(i.k || v.id::text)::uuid, 'school_id', i.school))).*
              from invented_schools i, drill_versions v
              where i.k > 0 and v.school_id = (select school from invented_schools where k = 0);
            create temporary table invented_drills as
              select i.k, array_agg(v.id order by v.slug) as ids, array_agg(v.slug order by v.slug) as slugs
              from invented_schools i join drill_versions v on v.school_id = i.school and v.state = 'published' group by i.k;
            insert into people (id, school_id, display_name, roles, active, legal_hold, two_factor_enabled)
              select md5('student ' || k || ' ' || n)::uuid, school, 'Invented student ' || to_char(n, 'FM000'), array['student'],
                true, false, false
              from invented_schools, generate_series(1, 500) as n
              union all
              select md5('instructor ' || k || ' ' || n)::uuid, school, 'Invented instructor ' || n, array['instructor'],
                true, false, false
              from invented_schools, generate_series(1, 10) as n;
            -- Everybody has two drills to fly, whatever was flown before.
            insert into assignments (id, school_id, student_id, drill_version_id, assigned_by_id, assigned_at_utc, due_on, flown)
              select md5('open ' || i.k || ' ' || n || ' ' || m)::uuid, i.school, md5('student ' || i.k || ' ' || n)::uuid,
                d.ids[1 + (n + m) % cardinality(d.ids)], md5('instructor ' || i.k || ' ' || 1 + n % 10)::uuid,
                now() - interval '2 days', (now() + interval '5 days')::date, false
              from invented_schools i join invented_drills d using (k), generate_series(1, 500) as n, generate_series(1, 2) as m
            """;

    private string Attempts(int from, int to, bool onlyDemoSchool) =>
        $"""
            create temporary table invented as
            select n, i.k, i.school, md5('assignment ' || n)::uuid as assignment, md5('attempt ' || n)::uuid as attempt,
              md5('report ' || n)::uuid as report,
              md5('student ' || i.k || ' ' || case when n <= {OwnAttempts} then 1 when n <= {Few} then 2 + n % 19
                else 2 + (n / {schools}) % 499 end)::uuid as student,
              md5('instructor ' || i.k || ' ' || 1 + n % 10)::uuid as instructor,
              d.ids[1 + (n / 7) % cardinality(d.ids)] as drill, d.slugs[1 + (n / 7) % cardinality(d.ids)] as slug,
              (array['met', 'met', 'met', 'met', 'met', 'close', 'close', 'close', 'not-met', 'not-met'])
                [1 + abs(hashint4(n)::bigint) % 10] as verdict,
              now() - interval '1826 days' * (abs(hashint4(n + 7)::bigint) / 2147483648.0) - interval '1 hour' as flown,
              null::timestamptz as signed
            from generate_series({from}, {to}) as n
            join invented_schools i on i.k = {(onlyDemoSchool ? "0" : $"n % {schools}")}
            join invented_drills d on d.k = i.k;
            -- Of the last fortnight every other attempt waits for its grade, as at a school that keeps up.
            update invented set signed = least(now(), flown + interval '1 day' * (n % 4))
              where flown <= now() - interval '14 days' or n % 2 = 1;
            insert into assignments (id, school_id, student_id, drill_version_id, assigned_by_id, assigned_at_utc, due_on, flown)
              select assignment, school, student, drill, instructor, flown - interval '3 days', flown::date, true from invented;
            insert into attempts (id, school_id, student_id, assignment_id, drill_version_id, uploaded_by_id, uploaded_at_utc, file_name,
                file_bytes, sha256, meta, status, revision, scored_with, latest_report_id, flown_at_utc, within_share, verdict, ribbon,
                graded_at_utc)
              select attempt, school, student, assignment, drill, student, flown + interval '1 hour', 'invented.csv', 0,
                md5('recording ' || n), d.meta, 'scored', d.revision, d.scored_with, report, flown, 0.8, i.verdict, d.ribbon, signed
              from invented i, (select * from attempts where latest_report_id is not null and scored_with is not null
                order by file_bytes desc limit 1) d;
            insert into score_reports (id, school_id, attempt_id, engine_version, revision, corrected, scored_at_utc, report)
              select i.report, school, i.attempt, d.scored_with, d.revision, false, i.flown + interval '1 hour',
                jsonb_build_object('overall', jsonb_build_object('verdict', i.verdict),
                  'sources', jsonb_build_object('airspeed', 'derived'))
              from invented i, (select * from attempts where latest_report_id is not null and scored_with is not null
                order by file_bytes desc limit 1) d;
            insert into segment_results (report_id, segment_index, parameter, school_id, attempt_id, student_id, drill_slug, kind,
                flown_at_utc, duration_s, within_share, verdict)
              select report, g / 2, (array['altitude', 'heading'])[1 + g % 2], school, attempt, student, slug,
                (array['level-straight', 'level-turn', 'climb-turn'])[1 + g / 2], flown, 60,
                0.5 + (abs(hashint4(n * 6 + g)::bigint) % 50) / 100.0,
                (array['met', 'met', 'close', 'not-met'])[1 + abs(hashint4(n * 6 + g)::bigint) % 4]
              from invented, generate_series(0, 5) as g;
            insert into audit_entries (school_id, at_utc, person_id, action, subject, subject_id, changes)
              select school, flown + interval '1 hour', student, 'attempt-uploaded', 'attempt', attempt, '[]'::jsonb from invented
              union all
              select school, signed, instructor, 'grade-signed', 'attempt', attempt, '[]'::jsonb from invented where signed is not null;
            insert into notices (id, school_id, person_id, student_id, kind, cause_id, assignment_id, attempt_id, drill_title,
                made_at_utc, read_at_utc)
              select md5('notice ' || n)::uuid, school, student, student, 'graded', attempt, assignment, attempt, slug, signed, signed
              from invented where signed > now() - interval '90 days';
            delete from invented where signed is null;
            insert into grades (id, school_id, attempt_id, number, instructor_id, overall, segments, saved_at_utc, signed_at_utc, report_id)
              select md5('grade ' || n)::uuid, school, attempt, 0, instructor,
                case when verdict = 'not-met' then 'with-help' else 'to-standard' end,
                '[]', flown + interval '1 hour', signed, report from invented;
            insert into grade_acknowledgements (grade_id, school_id, at_utc)
              select md5('grade ' || n)::uuid, school, now() from invented;
            drop table invented
            """;

    private async Task RunAsync(string sql)
    {
        await using var command = new NpgsqlCommand(sql, owner) { CommandTimeout = 0 };
        await command.ExecuteNonQueryAsync();
    }
}
