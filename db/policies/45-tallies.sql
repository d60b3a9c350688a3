-- Tallies: what dashboards read instead of whole histories. They change in the transaction that changes what they count, by triggers
-- at its end, whoever writes: an attempt's part is taken away as it was and added as it is. One transaction of a school at a time does
-- so, under a lock that is held to its end; it is taken last, so that nobody who holds it waits for a row of work.
--
-- day_tallies, by dimension and key: 'drill' slug, 'aircraft' slug or empty, 'segment' kind and parameter (items are segments) by the
-- day flown; 'assigned' instructor by the day given; 'graded' instructor and days since the flight by the day signed.
-- Of 'standard' slug there are the sums over all time alone: what was judged by each edition.
-- student_tallies: the same of 'drill' and 'aircraft' over all time, with the newest attempt. The day of '-infinity' has the sums over all
-- time of these two, and under 'waiting', by the instructor who assigned or empty, what is scored and not graded now.
-- student_summaries: what lists of all students show, a row each, made anew from indexes whenever one of the student's results changes.
-- What was there before any of these counts was counted is counted at the start, school by school (DatabaseTallies).

create schema if not exists tally authorization schooldrills_lookup;
grant select (time_zone, tallies_version) on schools to schooldrills_lookup;
grant select (id, slug, school_id, template) on drill_versions to schooldrills_lookup;
grant select (verdict, status, assignment_id, flown_at_utc, graded_at_utc, unread_since_utc, has_air_data),
  update (graded_at_utc, unread_since_utc) on attempts to schooldrills_lookup;
grant select (id, school_id, attempt_id, number, instructor_id, signed_at_utc) on grades to schooldrills_lookup;
grant select (grade_id) on grade_acknowledgements to schooldrills_lookup;
grant select (id, assigned_at_utc, cancelled_at_utc, flown, overrides), update (flown) on assignments to schooldrills_lookup;
grant select, insert, update, delete on day_tallies, student_summaries, student_tallies to schooldrills_lookup;

set local role schooldrills_lookup;

create function tally.lock_school(school uuid) returns void
  language sql volatile set search_path = pg_catalog, pg_temp as $$
  select pg_advisory_xact_lock(hashtextextended('tallies ' || lock_school.school, 0))
$$;

create function tally.day_of(school uuid, at_utc timestamptz) returns date
  language sql stable set search_path = pg_catalog, pg_temp as $$
  select (at_utc at time zone s.time_zone)::date from public.schools s where s.id = day_of.school
$$;

-- The standard that an attempt is judged by: its assignment's, else its drill's.
create function tally.standard_of(a public.attempts) returns text
  language sql stable set search_path = pg_catalog, pg_temp as $$
  select coalesce(
    (select x.overrides ->> 'standardSlug' from public.assignments x where x.id = (standard_of.a).assignment_id),
    (select v.template ->> 'standardSlug' from public.drill_versions v where v.id = (standard_of.a).drill_version_id))
$$;

create function tally.add_day(school uuid, dimension text, key text, day date, attempts integer, items integer, not_met integer)
  returns void language sql volatile set search_path = pg_catalog, pg_temp as $$
  insert into public.day_tallies as t (school_id, dimension, key, day, attempts, items, not_met)
  select $1, $2, $3, $4, $5, $6, $7 where $4 is not null
  on conflict (school_id, dimension, day, key) do update
    set attempts = t.attempts + excluded.attempts, items = t.items + excluded.items, not_met = t.not_met + excluded.not_met
$$;

create function tally.add_students(school uuid, dimension text, key text, day date, students integer)
  returns void language sql volatile set search_path = pg_catalog, pg_temp as $$
  insert into public.day_tallies as t (school_id, dimension, key, day, attempts, items, not_met, students)
  values ($1, $2, $3, $4, 0, 0, 0, $5)
  on conflict (school_id, dimension, day, key) do update set students = t.students + excluded.students
$$;

-- Who flies again is counted on the day of the newest attempt and no more on the day before.
create function tally.add_student(school uuid, student uuid, dimension text, key text, sign integer, failed integer, newest timestamptz)
  returns void language plpgsql volatile set search_path = pg_catalog, pg_temp as $$
declare before record; after record;
begin
  select t.attempts, t.last_flown_at_utc into before from public.student_tallies t
    where t.student_id = student and t.dimension = add_student.dimension and t.key = add_student.key;
  insert into public.student_tallies as t (school_id, student_id, dimension, key, attempts, not_met, last_flown_at_utc)
    values (school, student, dimension, key, sign, failed, coalesce(newest, '-infinity'))
    on conflict on constraint pk_student_tallies do update
      set attempts = t.attempts + excluded.attempts, not_met = t.not_met + excluded.not_met,
        last_flown_at_utc = excluded.last_flown_at_utc
    returning t.attempts, t.last_flown_at_utc into after;
  if before.attempts > 0 then
    perform tally.add_students(school, dimension, key, tally.day_of(school, before.last_flown_at_utc), -1);
  end if;
  if after.attempts > 0 then
    perform tally.add_students(school, dimension, key, tally.day_of(school, after.last_flown_at_utc), 1);
  end if;
  perform tally.add_day(school, dimension, key, '-infinity', sign, sign, failed);
  perform tally.add_students(school, dimension, key, '-infinity',
    (after.attempts > 0)::integer - coalesce((before.attempts > 0)::integer, 0));
end $$;

-- Of several attempts for one assignment only the newest is graded.
create function tally.summarize(school uuid, student uuid) returns void
  language sql volatile set search_path = pg_catalog, pg_temp as $$
  insert into public.student_summaries (school_id, student_id, attempts, last_flown_at_utc, to_grade, waiting_since_utc, state)
  select $1, $2, t.attempts, t.newest, w.attempts, w.since, gen_random_uuid()
  from (
    select coalesce(sum(t.attempts), 0)::integer as attempts, max(t.last_flown_at_utc) as newest
    from public.student_tallies t where t.student_id = $2 and t.dimension = 'drill' and t.attempts > 0) t
  cross join (
    select count(*)::integer as attempts, min(a.uploaded_at_utc) as since from public.attempts a
    where a.student_id = $2 and a.verdict is not null and a.graded_at_utc is null and not exists (
      select from public.attempts b where b.assignment_id = a.assignment_id and b.uploaded_at_utc > a.uploaded_at_utc)) w
  on conflict (student_id) do update
    set attempts = excluded.attempts, last_flown_at_utc = excluded.last_flown_at_utc, to_grade = excluded.to_grade,
      waiting_since_utc = excluded.waiting_since_utc, state = excluded.state
$$;

-- An attempt's part, added (1) or taken away (-1). The newest attempt is looked up as the table now has it.
create function tally.count_attempt(a public.attempts, sign integer) returns void
  language plpgsql volatile set search_path = pg_catalog, pg_temp as $$
declare
  on_day date := tally.day_of(a.school_id, a.flown_at_utc);
  drill text := (select v.slug from public.drill_versions v where v.id = a.drill_version_id);
  failed integer := case when a.verdict = 'not-met' then sign else 0 end;
  first_grade record;
begin
  select g.instructor_id, g.signed_at_utc into first_grade from public.grades g
    where g.attempt_id = a.id and g.number = 0 and g.signed_at_utc is not null and a.graded_at_utc is not null;
  if found and a.flown_at_utc is not null then
    perform tally.add_day(a.school_id, 'graded',
      first_grade.instructor_id || ' ' || (tally.day_of(a.school_id, first_grade.signed_at_utc) - on_day),
      tally.day_of(a.school_id, first_grade.signed_at_utc), sign, 0, 0);
  end if;
  if a.verdict is null or a.flown_at_utc is null then
    return;
  end if;
  if a.graded_at_utc is null then
    perform tally.add_day(a.school_id, 'waiting',
      coalesce((select x.assigned_by_id::text from public.assignments x where x.id = a.assignment_id), ''), '-infinity', sign, 0, 0);
  end if;
  perform tally.add_day(a.school_id, 'standard', tally.standard_of(a), '-infinity', sign, sign, failed);
  perform tally.add_day(a.school_id, 'drill', drill, on_day, sign, sign, failed);
  perform tally.add_day(a.school_id, 'aircraft', coalesce(a.aircraft, ''), on_day, sign, sign, failed);
  perform tally.add_day(a.school_id, 'segment', r.kind || ' ' || r.parameter, on_day, sign, sign * count(*)::integer,
      sign * (count(*) filter (where r.verdict = 'not-met'))::integer)
    from public.segment_results r where r.report_id = a.latest_report_id and r.verdict <> 'not-measured' group by r.kind, r.parameter;
  perform tally.add_student(a.school_id, a.student_id, 'drill', drill, sign, failed, (
    select max(x.flown_at_utc) from public.attempts x join public.drill_versions v on v.id = x.drill_version_id
    where x.student_id = a.student_id and v.slug = drill and x.verdict is not null));
  perform tally.add_student(a.school_id, a.student_id, 'aircraft', coalesce(a.aircraft, ''), sign, failed, (
    select max(x.flown_at_utc) from public.attempts x
    where x.student_id = a.student_id and x.aircraft is not distinct from a.aircraft and x.verdict is not null));
end $$;

create function tally.attempt_changed() returns trigger
  language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
begin
  perform tally.lock_school(new.school_id);
  if tg_op = 'UPDATE' then
    perform tally.count_attempt(old, -1);
  end if;
  perform tally.count_attempt(new, 1);
  perform tally.summarize(new.school_id, new.student_id);
  return null;
end $$;

-- The first signature is when an attempt was graded, whoever amends it after; each is the student's to read.
create function tally.grade_signed() returns trigger
  language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
begin
  update public.attempts a set graded_at_utc = coalesce(a.graded_at_utc, new.signed_at_utc), unread_since_utc = new.signed_at_utc
    where a.id = new.attempt_id;
  return null;
end $$;

create function tally.grade_read() returns trigger
  language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
begin
  update public.attempts a set unread_since_utc = null from public.grades g
    where g.id = new.grade_id and a.id = g.attempt_id and a.unread_since_utc = g.signed_at_utc;
  return null;
end $$;

-- An assignment is flown while an attempt for it is scored or may yet be. Its row is locked before its attempts are looked at, so that
-- of two changes at once the later sees the earlier; no key is, so that attempts may come in meanwhile.
create function tally.attempt_for_assignment() returns trigger
  language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
begin
  perform from public.assignments x where x.id = new.assignment_id for no key update;
  update public.assignments x set flown = not x.flown where x.id = new.assignment_id and x.flown <> exists (
    select from public.attempts a where a.assignment_id = x.id and a.status <> 'unscorable');
  return null;
end $$;

create function tally.assignment_changed() returns trigger
  language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
begin
  perform tally.lock_school(new.school_id);
  perform tally.add_day(new.school_id, 'assigned', new.assigned_by_id::text, tally.day_of(new.school_id, new.assigned_at_utc),
    case when new.cancelled_at_utc is null then 1 else -1 end, 0, 0);
  return null;
end $$;

-- Days are those of the school's time zone.
create function tally.time_zone_changed() returns trigger
  language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
begin
  perform tally.rebuild();
  return null;
end $$;

-- What waits, marked anew on the work itself.
create function tally.mark_work(school uuid) returns void
  language plpgsql volatile set search_path = pg_catalog, pg_temp as $$
begin
  update public.assignments x set flown = not x.flown where x.school_id = mark_work.school and x.flown <> exists (
    select from public.attempts a where a.assignment_id = x.id and a.status <> 'unscorable');
  update public.attempts a set unread_since_utc = n.unread from (
    select distinct on (g.attempt_id) g.attempt_id, case when r.grade_id is null then g.signed_at_utc end as unread
    from public.grades g left join public.grade_acknowledgements r on r.grade_id = g.id
    where g.school_id = mark_work.school and g.signed_at_utc is not null order by g.attempt_id, g.number desc) n
    where n.attempt_id = a.id and a.unread_since_utc is distinct from n.unread;
end $$;

-- All tallies of the school on whose behalf the connection works, made anew from what they count.
create function tally.rebuild() returns void
  language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
declare
  school uuid := nullif(current_setting('app.school_id', true), '')::uuid;
begin
  perform tally.mark_work(school);
  perform tally.lock_school(school);
  delete from public.day_tallies t where t.school_id = school;
  delete from public.student_tallies t where t.school_id = school;
  delete from public.student_summaries t where t.school_id = school;
  insert into public.student_tallies (school_id, student_id, dimension, key, attempts, not_met, last_flown_at_utc)
  select school, a.student_id, d.dimension, d.key, count(*), count(*) filter (where a.verdict = 'not-met'), max(a.flown_at_utc)
    from public.attempts a join public.drill_versions v on v.id = a.drill_version_id
    cross join lateral (values ('drill', v.slug), ('aircraft', coalesce(a.aircraft, ''))) as d (dimension, key)
    where a.school_id = school and a.verdict is not null and a.flown_at_utc is not null group by a.student_id, d.dimension, d.key;
  -- In the order of days, as they come in the course of time: what dashboards ask for lies together.
  insert into public.day_tallies (school_id, dimension, key, day, attempts, items, not_met, students)
  with flown as materialized (
    select a.id, v.slug, coalesce(a.aircraft, '') as aircraft, (a.flown_at_utc at time zone s.time_zone)::date as day, a.verdict,
      a.latest_report_id, a.graded_at_utc, s.time_zone
    from public.attempts a join public.drill_versions v on v.id = a.drill_version_id join public.schools s on s.id = a.school_id
    where a.school_id = school and a.flown_at_utc is not null),
  newest as (
    select t.dimension, t.key, tally.day_of(school, t.last_flown_at_utc) as day, t.attempts, t.not_met
    from public.student_tallies t where t.school_id = school)
  select school, c.dimension, c.key, c.day, c.attempts, c.items, c.not_met, coalesce(n.students, 0) from (
  select 'drill' as dimension, slug as key, day, count(*) as attempts, count(*) as items,
      count(*) filter (where verdict = 'not-met') as not_met from flown where verdict is not null group by slug, day
  union all
  select 'aircraft', aircraft, day, count(*), count(*), count(*) filter (where verdict = 'not-met')
    from flown where verdict is not null group by aircraft, day
  union all
  select 'segment', r.kind || ' ' || r.parameter, f.day, count(distinct f.id), count(*),
    count(*) filter (where r.verdict = 'not-met')
    from flown f join public.segment_results r on r.report_id = f.latest_report_id
    where f.verdict is not null and r.verdict <> 'not-measured' group by r.kind, r.parameter, f.day
  union all
  select 'graded', g.instructor_id || ' ' || ((g.signed_at_utc at time zone f.time_zone)::date - f.day),
    (g.signed_at_utc at time zone f.time_zone)::date, count(*), 0, 0
    from flown f join public.grades g on g.attempt_id = f.id and g.number = 0 and g.signed_at_utc is not null group by 2, 3
  union all
  select 'assigned', x.assigned_by_id::text, (x.assigned_at_utc at time zone s.time_zone)::date, count(*), 0, 0
    from public.assignments x join public.schools s on s.id = x.school_id
    where x.school_id = school and x.cancelled_at_utc is null group by 2, 3
  union all
  select 'waiting', coalesce(x.assigned_by_id::text, ''), '-infinity', count(*), 0, 0
    from public.attempts a left join public.assignments x on x.id = a.assignment_id
    where a.school_id = school and a.verdict is not null and a.flown_at_utc is not null and a.graded_at_utc is null group by 2
  union all
  select 'standard', coalesce(x.overrides ->> 'standardSlug', v.template ->> 'standardSlug'), '-infinity', count(*), count(*),
    count(*) filter (where a.verdict = 'not-met')
    from public.attempts a join public.drill_versions v on v.id = a.drill_version_id
    left join public.assignments x on x.id = a.assignment_id
    where a.school_id = school and a.verdict is not null and a.flown_at_utc is not null group by 2
  union all select dimension, key, '-infinity', sum(attempts), sum(attempts), sum(not_met) from newest group by dimension, key) c
  left join (
    select dimension, key, day, count(*) as students from newest group by dimension, key, day
    union all select dimension, key, '-infinity', count(*) from newest group by dimension, key) n using (dimension, key, day)
  order by c.day, c.dimension, c.key;
  perform tally.summarize(school, s.id) from (
    select t.student_id as id from public.student_tallies t where t.school_id = school group by t.student_id) s;
end $$;

-- At the start: which schools' work was counted by an earlier version, or by none?
create function tally.uncounted_schools(version integer) returns setof uuid
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  select s.id from public.schools s where s.tallies_version < uncounted_schools.version order by s.id
$$;

reset role;

create constraint trigger tallied after update on attempts deferrable initially deferred for each row
  when (old.latest_report_id is distinct from new.latest_report_id or old.verdict is distinct from new.verdict
    or old.flown_at_utc is distinct from new.flown_at_utc or old.graded_at_utc is distinct from new.graded_at_utc
    or old.within_share is distinct from new.within_share)
  execute function tally.attempt_changed();
-- Scored it is later; but what was flown for the same assignment before need no longer be graded.
create constraint trigger tallied_new after insert on attempts deferrable initially deferred for each row
  when (new.assignment_id is not null or new.verdict is not null) execute function tally.attempt_changed();
create trigger signed after insert on grades for each row when (new.signed_at_utc is not null) execute function tally.grade_signed();
create trigger signed_later after update on grades for each row when (old.signed_at_utc is null and new.signed_at_utc is not null)
  execute function tally.grade_signed();
create trigger read after insert on grade_acknowledgements for each row execute function tally.grade_read();
create trigger flown after insert on attempts for each row when (new.assignment_id is not null)
  execute function tally.attempt_for_assignment();
create trigger flown_or_not after update on attempts for each row
  when (new.assignment_id is not null and (old.status = 'unscorable') <> (new.status = 'unscorable'))
  execute function tally.attempt_for_assignment();
create constraint trigger tallied after insert on assignments deferrable initially deferred for each row
  when (new.cancelled_at_utc is null) execute function tally.assignment_changed();
create constraint trigger tallied_back after update on assignments deferrable initially deferred for each row
  when (old.cancelled_at_utc is null and new.cancelled_at_utc is not null) execute function tally.assignment_changed();
create trigger time_zone_changed after update on schools for each row when (old.time_zone is distinct from new.time_zone)
  execute function tally.time_zone_changed();
