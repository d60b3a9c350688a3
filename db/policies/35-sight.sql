-- Within a school: a student sees his own work, an instructor the whole school's or, where the school says so, that of the
-- students he gave an assignment to (app.sight: self, school, own-students). It stands here as well as in the queries, so that an
-- endpoint which forgets to ask shows nothing. Tables of students' work are known by their columns; a new one is in it by itself.

do $$
declare
  t record;
  person constant text := 'nullif(current_setting(''app.person_id'', true), '''')::uuid';
  rule text;
begin
  for t in
    select c.oid::regclass as name, c.relname,
      exists (select from pg_attribute a where a.attrelid = c.oid and a.attname = 'student_id' and not a.attisdropped) as by_student
    from pg_class c
    where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p')
      and exists (select from pg_attribute a where a.attrelid = c.oid and a.attname in ('student_id', 'attempt_id') and not a.attisdropped)
  loop
    if t.by_student then
      rule := format(
        'case current_setting(''app.sight'', true) when ''self'' then student_id = %1$s when ''own-students'' then student_id = %1$s or student_id in (select lookup.own_students())%2$s else true end',
        person, case when t.relname = 'assignments' then format(' or assigned_by_id = %s', person) else '' end);
    else
      -- Whose it is stands with the attempt, and the attempts that are seen are those of above.
      rule := 'case when current_setting(''app.sight'', true) in (''self'', ''own-students'') then exists (select from public.attempts a where a.id = attempt_id) else true end';
    end if;
    execute format('drop policy if exists sight on %s', t.name);
    execute format('create policy sight on %s as restrictive to schooldrills_app using (%s)', t.name, rule);
  end loop;
end $$;
