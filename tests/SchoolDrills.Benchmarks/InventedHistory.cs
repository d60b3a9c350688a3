using Npgsql;

namespace SchoolDrills.Benchmarks;

/// <summary>
/// A history of five years for the demo school, invented row by row from its number: 500 students named as such, their assignments,
/// attempts, short reports with six results each, and grades. For a throw-away database alone.
/// </summary>
internal sealed class InventedHistory(NpgsqlConnection owner)
{
    /// <summary>The first of them, whose own history is the same however much the others flew.</summary>
    public const string MeasuredStudent = "Invented student 001";

    /// <summary>Flown by the first twenty alone, a page of students: so many pages are as full as ever they get.</summary>
    public const int Few = 1_000;

    private const int OwnAttempts = 100;

    private int made;

    /// <summary>Adds what is missing up to this many attempts, and counts and analyzes anew.</summary>
    public async Task GrowToAsync(int attempts)
    {
        // Rows are whole as they come: neither triggers nor foreign keys have to look at each.
        await RunAsync("set session_replication_role = replica");
        if (made == 0)
            await RunAsync(People);
        await RunAsync(
            $"""
            create temporary table invented as
            select n, md5('assignment ' || n)::uuid as assignment, md5('attempt ' || n)::uuid as attempt,
              md5('report ' || n)::uuid as report,
              md5('student ' || case when n <= {OwnAttempts} then 1 when n <= {Few} then 2 + n % 19 else 2 + n % 499 end)::uuid as student,
              md5('instructor ' || 1 + n % 10)::uuid as instructor,
              v.ids[1 + (n / 7) % cardinality(v.ids)] as drill, v.slugs[1 + (n / 7) % cardinality(v.ids)] as slug,
              (array['met', 'met', 'met', 'met', 'met', 'close', 'close', 'close', 'not-met', 'not-met'])
                [1 + abs(hashint4(n)::bigint) % 10] as verdict,
              now() - interval '1826 days' * (abs(hashint4(n + 7)::bigint) / 2147483648.0) - interval '1 hour' as flown,
              null::timestamptz as signed
            from generate_series({made + 1}, {attempts}) as n
            cross join (select array_agg(id order by slug) as ids, array_agg(slug order by slug) as slugs from drill_versions
              where state = 'published') v;
            -- Of the last fortnight every other attempt waits for its grade, as at a school that keeps up.
            update invented set signed = least(now(), flown + interval '1 day' * (n % 4))
              where flown <= now() - interval '14 days' or n % 2 = 1;
            insert into assignments (id, school_id, student_id, drill_version_id, assigned_by_id, assigned_at_utc, due_on, flown)
              select assignment, s.id, student, drill, instructor, flown - interval '3 days', flown::date, true from invented, schools s;
            insert into attempts (id, school_id, student_id, assignment_id, drill_version_id, uploaded_by_id, uploaded_at_utc, file_name,
                file_bytes, sha256, meta, status, revision, scored_with, latest_report_id, flown_at_utc, within_share, verdict, ribbon,
                graded_at_utc)
              select attempt, s.id, student, assignment, drill, student, flown + interval '1 hour', 'invented.csv', 0,
                md5('recording ' || n), d.meta, 'scored', d.revision, d.scored_with, report, flown, 0.8, i.verdict, d.ribbon, signed
              from invented i, schools s, (select * from attempts where latest_report_id is not null and scored_with is not null limit 1) d;
            insert into score_reports (id, school_id, attempt_id, engine_version, revision, corrected, scored_at_utc, report)
              select i.report, s.id, i.attempt, d.scored_with, d.revision, false, i.flown + interval '1 hour',
                jsonb_build_object('overall', jsonb_build_object('verdict', i.verdict),
                  'sources', jsonb_build_object('airspeed', 'derived'))
              from invented i, schools s, (select * from attempts where latest_report_id is not null and scored_with is not null limit 1) d;
            insert into segment_results (report_id, segment_index, parameter, school_id, attempt_id, student_id, drill_slug, kind,
                flown_at_utc, duration_s, within_share, verdict)
              select report, k / 2, (array['altitude', 'heading'])[1 + k % 2], s.id, attempt, student, slug,
                (array['level-straight', 'level-turn', 'climb-turn'])[1 + k / 2], flown, 60,
                0.5 + (abs(hashint4(n * 6 + k)::bigint) % 50) / 100.0,
                (array['met', 'met', 'close', 'not-met'])[1 + abs(hashint4(n * 6 + k)::bigint) % 4]
              from invented, schools s, generate_series(0, 5) as k;
            delete from invented where signed is null;
            insert into grades (id, school_id, attempt_id, number, instructor_id, overall, segments, saved_at_utc, signed_at_utc, report_id)
              select md5('grade ' || n)::uuid, s.id, attempt, 0, instructor,
                case when verdict = 'not-met' then 'with-help' else 'to-standard' end,
                '[]', flown + interval '1 hour', signed, report from invented, schools s;
            insert into grade_acknowledgements (grade_id, school_id, at_utc)
              select md5('grade ' || n)::uuid, s.id, now() from invented, schools s;
            drop table invented
            """
        );
        made = attempts;
        await RunAsync("set session_replication_role = origin");
        await RunAsync("select set_config('app.school_id', (select id::text from schools), false)");
        await RunAsync("select tally.rebuild()");
        await RunAsync("vacuum analyze");
    }

    private const string People = """
        insert into people (id, school_id, display_name, roles, active, legal_hold, two_factor_enabled)
          select md5('student ' || n)::uuid, s.id, 'Invented student ' || to_char(n, 'FM000'), array['student'], true, false, false
          from schools s, generate_series(1, 500) as n
          union all
          select md5('instructor ' || n)::uuid, s.id, 'Invented instructor ' || n, array['instructor'], true, false, false
          from schools s, generate_series(1, 10) as n
        """;

    private async Task RunAsync(string sql)
    {
        await using var command = new NpgsqlCommand(sql, owner) { CommandTimeout = 0 };
        await command.ExecuteNonQueryAsync();
    }
}
