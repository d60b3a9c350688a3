-- Visibility within a school: a student sees his own work; an instructor the whole school's or, where the school says so, that of the
-- students he gave an assignment to. The queries of the API say the same; this is for the query that forgets. app.visibility holds one
-- of the words below; any other value, or none, shows nothing. 'jobs' counts for the role of the jobs alone, and the others do not.
--
-- Every table is named in one of the two lists below, with the rule that covers it or the reason why none does. A table that is in
-- neither stops the set-up.

do $$
declare
  t record;
  unnamed text;
begin
  create temporary table rules (rule text primary key, self text, own_students text, whole_school text) on commit drop;
  insert into rules values
    ('student', 'student_id = $me', 'student_id = $me or student_id in (select lookup.own_students())', 'true'),
    ('assignment', 'student_id = $me', 'student_id = $me or assigned_by_id = $me or student_id in (select lookup.own_students())', 'true'),
    -- Whose these are is known by the row that they belong to, and that row is seen or not by its own rule.
    ('attempt', '$attempt', '$attempt', 'true'),
    ('of a report', '$report', '$report', 'true'),
    ('of a grade', '$grade', '$grade', 'true'),
    -- A draft is the instructors' until it is signed.
    ('grade', 'signed_at_utc is not null and $attempt', '$attempt', 'true'),
    -- Nobody else's business until it becomes an attempt; the chief answers for what the school keeps.
    ('sender', 'person_id = $me', 'person_id = $me', 'person_id = $me or lookup.is_chief()');

  create temporary table covered (table_name text primary key, rule text not null references rules) on commit drop;
  insert into covered values
    ('assignments', 'assignment'),
    ('attempt_corrections', 'attempt'),
    ('attempt_events', 'attempt'),
    ('attempts', 'student'),
    ('grade_acknowledgements', 'of a grade'),
    ('grades', 'grade'),
    ('load_ratings', 'attempt'),
    ('pending_tracks', 'sender'),
    ('score_reports', 'attempt'),
    ('segment_results', 'student'),
    ('self_assessments', 'attempt'),
    ('track_files', 'attempt'),
    ('track_plots', 'of a report');

  create temporary table exempt (table_name text primary key, reason text not null) on commit drop;
  insert into exempt values
    ('__EFMigrationsHistory', 'the installation''s; no role that serves may read it'),
    ('aircraft_profiles', 'the school''s, for everybody there'),
    ('api_tokens', 'no work; read before it is known who asks'),
    ('audit_entries', 'no work; the API shows it to the chief alone'),
    ('column_mappings', 'the school''s memory of file headers, read at everybody''s upload'),
    ('data_protection_keys', 'the installation''s'),
    ('drill_versions', 'the school''s, for everybody there'),
    ('entry_links', 'no work; read before it is known who asks'),
    ('first_run_tokens', 'the installation''s'),
    ('people', 'names stand beside work: who assigned, uploaded, corrected, graded'),
    ('schools', 'the school itself'),
    ('sessions', 'no work; read before it is known who asks'),
    ('sign_in_failures', 'the installation''s'),
    ('tolerance_standards', 'the school''s, for everybody there');

  select string_agg(c.relname, ', ' order by c.relname) into unnamed from pg_class c
  where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p')
    and c.relname not in (select table_name from covered union all select table_name from exempt);
  if unnamed is not null then
    raise exception 'db/policies/35-visibility.sql does not say who may see %.', unnamed;
  end if;

  for t in
    select c.table_name, format(
      'case current_setting(''app.visibility'', true) when ''self'' then %s when ''own-students'' then %s when ''whole-school'' then %s else false end',
      r.self, r.own_students, r.whole_school) as condition
    from covered c join rules r using (rule)
  loop
    t.condition := replace(t.condition, '$attempt', 'exists (select from public.attempts a where a.id = attempt_id)');
    t.condition := replace(t.condition, '$report', 'exists (select from public.score_reports r where r.id = report_id)');
    t.condition := replace(t.condition, '$grade', 'exists (select from public.grades g where g.id = grade_id)');
    t.condition := replace(t.condition, '$me', 'nullif(current_setting(''app.person_id'', true), '''')::uuid');
    execute format('create policy visibility on public.%I as restrictive to schooldrills_app using (%s)', t.table_name, t.condition);
    execute format(
      'create policy visibility_of_jobs on public.%I as restrictive to schooldrills_jobs
         using (case current_setting(''app.visibility'', true) when ''jobs'' then true else false end)',
      t.table_name);
  end loop;
end $$;
