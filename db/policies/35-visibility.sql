-- Visibility within a school: a student sees his own work; an instructor the whole school's or, where the school says so, that of the
-- students he gave an assignment to. The queries of the API say the same; this is for the query that forgets. app.visibility holds one
-- of the words below; any other value, or none, shows nothing. 'jobs' counts for the role of the jobs alone, and the others do not.
--
-- Every table is named in one of the two lists below, with the rule that covers it or the reason why none does. A table or view that is
-- in neither stops the set-up.

do $$
declare
  t record;
  unnamed text;
  me constant text := 'nullif(current_setting(''app.person_id'', true), '''')::uuid';
  staff constant text :=
    'case current_setting(''app.visibility'', true) when ''own-students'' then true when ''whole-school'' then true else false end';
begin
  create temporary table rules (rule text primary key, self text, own_students text, whole_school text, jobs text) on commit drop;
  insert into rules values
    ('student', 'student_id = $me', '$theirs', 'true', 'true'),
    ('assignment', 'student_id = $me', '$theirs or assigned_by_id = $me', 'true', 'true'),
    -- Whose these are is known by the row that they belong to, and that row is seen or not by its own rule.
    ('of an assignment', '$assignment', '$assignment', 'true', 'true'),
    ('attempt', '$attempt', '$attempt', 'true', 'true'),
    ('of a report', '$report', '$report', 'true', 'true'),
    ('of a grade', '$grade', '$grade', 'true', 'true'),
    -- Instructors' among themselves; nobody reads what was noted on oneself, a copy of one's data apart (lookup.notes_on_me).
    ('noted', 'false', 'student_id <> $me and ($theirs)', 'student_id <> $me', 'false'),
    -- A draft is the instructors' until it is signed.
    ('grade', 'signed_at_utc is not null and $attempt', '$attempt', 'true', 'true'),
    -- Nobody else's business until it becomes an attempt; the chief answers for what the school keeps.
    ('sender', 'person_id = $me', 'person_id = $me', 'person_id = $me or (select lookup.is_chief())', 'true'),
    -- Told to one person; not even the chief reads along.
    ('told', 'person_id = $me', 'person_id = $me', 'person_id = $me', 'true'),
    -- What one did, and what was done to one's account; the whole trail is the chief's. Jobs have no name.
    ('trail', '$trail', '$trail', '$trail or (select lookup.is_chief())', 'person_id is null');

  create temporary table covered (table_name text primary key, rule text not null references rules) on commit drop;
  insert into covered values
    ('assignment_plans', 'of an assignment'),
    ('assignments', 'assignment'),
    ('attempt_corrections', 'attempt'),
    ('attempt_events', 'attempt'),
    ('attempts', 'student'),
    ('audit_entries', 'trail'),
    ('flight_logs', 'student'),
    ('grade_acknowledgements', 'of a grade'),
    ('grades', 'grade'),
    ('load_ratings', 'attempt'),
    ('notices', 'told'),
    ('pending_tracks', 'sender'),
    ('rescoring_items', 'attempt'),
    ('score_reports', 'attempt'),
    ('segment_results', 'student'),
    ('self_assessments', 'attempt'),
    ('student_notes', 'noted'),
    ('student_summaries', 'student'),
    ('student_tallies', 'student'),
    ('track_files', 'attempt'),
    ('track_plots', 'of a report');

  create temporary table exempt (table_name text primary key, reason text not null) on commit drop;
  insert into exempt values
    ('__EFMigrationsHistory', 'the installation''s; no role that serves has access'),
    ('aircraft_profiles', 'the school''s, for everybody there'),
    ('api_tokens', 'secrets; the accounts'' role alone has access'),
    ('column_mappings', 'the school''s memory of file headers, read at everybody''s upload'),
    ('credentials', 'secrets; the accounts'' role alone has access'),
    ('data_protection_keys', 'secrets; the accounts'' role alone has access'),
    ('day_tallies', 'counts of the whole school; the API shows them to the chief'),
    ('drill_draft_revisions', 'no student''s work; the API shows drafts to those who may draft'),
    ('drill_examples', 'a plot without name, day or place, for the school''s students to lay over theirs'),
    ('drill_versions', 'the school''s, for everybody there'),
    ('entry_links', 'secrets; the accounts'' role alone has access'),
    ('first_run_tokens', 'secrets; the accounts'' role alone has access'),
    ('people', 'names stand beside work: who assigned, uploaded, corrected, graded'),
    ('practice_areas', 'the school''s, for everybody there'),
    ('rescorings', 'counts of the whole school; the API shows them to the chief'),
    ('schools', 'the school itself'),
    ('scoring_claims', 'keys of what is being scored; the functions of 30-lookup.sql alone have access'),
    ('sessions', 'secrets; the accounts'' role alone has access'),
    ('sign_in_failures', 'the accounts'' role alone has access'),
    ('tolerance_standards', 'the school''s, for everybody there');

  select string_agg(c.relname, ', ' order by c.relname) into unnamed from pg_class c
  where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p', 'v', 'm', 'f')
    and c.relname not in (select table_name from covered union all select table_name from exempt);
  if unnamed is not null then
    raise exception 'db/policies/35-visibility.sql does not say who may see %.', unnamed;
  end if;

  for t in
    select c.table_name, r.jobs, r.rule, format(
      'case current_setting(''app.visibility'', true)
         when ''self'' then %s when ''own-students'' then %s when ''whole-school'' then %s else false end',
      r.self, r.own_students, r.whole_school) as condition
    from covered c join rules r using (rule)
  loop
    t.condition := replace(t.condition, '$theirs', 'student_id = $me or student_id in (select lookup.own_students())');
    t.condition := replace(t.condition, '$attempt', 'exists (select from public.attempts a where a.id = attempt_id)');
    t.condition := replace(t.condition, '$assignment', 'exists (select from public.assignments a where a.id = assignment_id)');
    t.condition := replace(t.condition, '$report', 'exists (select from public.score_reports r where r.id = report_id)');
    t.condition := replace(t.condition, '$grade', 'exists (select from public.grades g where g.id = grade_id)');
    t.condition := replace(t.condition, '$trail', 'person_id = $me or subject_id = $me');
    t.condition := replace(t.condition, '$me', me);
    execute format('create policy visibility on public.%I as restrictive to schooldrills_app using (%s)%s', t.table_name, t.condition,
      -- Who causes it writes it: a student of his own work, staff of their students'.
      case t.rule when 'told' then format(' with check (%1$s or student_id = %2$s or person_id = %2$s)', staff, me) else '' end);
    execute format(
      'create policy visibility_of_jobs on public.%I as restrictive to schooldrills_jobs
         using (case current_setting(''app.visibility'', true) when ''jobs'' then %s else false end)',
      t.table_name, t.jobs);
  end loop;

  -- Seeing one's own is not writing it.
  for t in
    select unnest(array['assignments', 'attempt_corrections', 'drill_draft_revisions', 'drill_examples', 'grades']) as table_name
  loop
    execute format(
      'create policy staff_insert on public.%I as restrictive for insert to schooldrills_app with check (%s)', t.table_name, staff);
    execute format(
      'create policy staff_update on public.%I as restrictive for update to schooldrills_app using (%s)', t.table_name, staff);
  end loop;
  execute 'create policy chief_insert on public.practice_areas as restrictive for insert to schooldrills_app
    with check ((select lookup.is_chief()))';
  execute 'create policy chief_delete on public.practice_areas as restrictive for delete to schooldrills_app
    using ((select lookup.is_chief()))';
  for t in select unnest(array['rescoring_items', 'rescorings']) as table_name loop
    execute format('create policy chief_insert on public.%I as restrictive for insert to schooldrills_app
      with check ((select lookup.is_chief()))', t.table_name);
    execute format('create policy chief_update on public.%I as restrictive for update to schooldrills_app
      using ((select lookup.is_chief()))', t.table_name);
  end loop;
  execute format('create policy staff_delete on public.drill_examples as restrictive for delete to schooldrills_app using (%s)', staff);
end $$;

-- Of the events of an attempt only what follows a log goes with it.
create policy copies_only on attempt_events as restrictive for delete to schooldrills_app, schooldrills_jobs
  using (flight_log_id is not null);

-- A note is its writer's to change and to delete.
create policy own_note_insert on student_notes as restrictive for insert to schooldrills_app
  with check (written_by_id = nullif(current_setting('app.person_id', true), '')::uuid);
create policy own_note_update on student_notes as restrictive for update to schooldrills_app
  using (written_by_id = nullif(current_setting('app.person_id', true), '')::uuid);
create policy own_note_delete on student_notes as restrictive for delete to schooldrills_app
  using (written_by_id = nullif(current_setting('app.person_id', true), '')::uuid);

-- Nobody writes the trail in another's name.
create policy own_name on audit_entries as restrictive for insert to schooldrills_app
  with check (person_id = nullif(current_setting('app.person_id', true), '')::uuid);
