-- Questions that come before it is known who asks, or that go past what one person sees; each is answered with as little as will do.
-- They run as a role that can sign in nowhere and has these columns only.

create schema if not exists lookup authorization schooldrills_lookup;
grant usage on schema public to schooldrills_lookup;
grant usage on schema lookup to schooldrills_app, schooldrills_jobs, schooldrills_accounts, schooldrills_eraser;

grant select (id, school_id, normalized_email, display_name, roles, active) on people to schooldrills_lookup;
grant select (id, instructors_see_own_students_only, suspended_at_utc, most_stored_bytes, most_uploads_an_hour, stored_bytes,
    scoring_served_at_utc), update (scoring_served_at_utc) on schools
  to schooldrills_lookup;
grant select, insert, update, delete on scoring_claims to schooldrills_lookup;
grant select (id, school_id, student_id, status, uploaded_at_utc, queued_at_utc, drill_version_id, aircraft, has_air_data,
    latest_report_id) on attempts
  to schooldrills_lookup;
grant select (id, school_id, report) on score_reports to schooldrills_lookup;
grant select (report_id, school_id, kind, parameter, verdict) on segment_results to schooldrills_lookup;
grant select (id, school_id, hash) on entry_links to schooldrills_lookup;
grant select (id, school_id, person_id, hash, scope, expires_at_utc, revoked_at_utc, last_used_at_utc), update (last_used_at_utc)
  on api_tokens to schooldrills_lookup;
grant select (id, school_id, person_id, expires_at_utc, ended_at_utc, last_seen_at_utc, password_at_utc, ip, user_agent),
  update (last_seen_at_utc) on sessions to schooldrills_lookup;
grant select (school_id, student_id, assigned_by_id) on assignments to schooldrills_lookup;
grant select on student_notes to schooldrills_lookup;

create policy lookup on people for select to schooldrills_lookup using (true);
create policy lookup on schools for select to schooldrills_lookup using (true);
create policy lookup_notes_turn on schools for update to schooldrills_lookup using (true);
create policy lookup on scoring_claims to schooldrills_lookup using (true) with check (true);
create policy lookup on attempts for select to schooldrills_lookup using (true);
create policy lookup on score_reports for select to schooldrills_lookup using (true);
create policy lookup on segment_results for select to schooldrills_lookup using (true);
create policy lookup on entry_links for select to schooldrills_lookup using (true);
create policy lookup on api_tokens for select to schooldrills_lookup using (true);
create policy lookup_notes_use on api_tokens for update to schooldrills_lookup using (true);
create policy lookup on sessions for select to schooldrills_lookup using (true);
create policy lookup_notes_use on sessions for update to schooldrills_lookup using (true);
create policy lookup on assignments for select to schooldrills_lookup using (true);
create policy lookup on student_notes for select to schooldrills_lookup
  using (student_id = nullif(current_setting('app.person_id', true), '')::uuid);

set local role schooldrills_lookup;

-- The students a person gave an assignment to.
create function lookup.students_of(school uuid, person uuid) returns setof uuid
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  select distinct a.student_id from public.assignments a where a.school_id = students_of.school and a.assigned_by_id = students_of.person
$$;

-- A copy of one's own data: what instructors noted on the person who asks, which that person reads nowhere else.
create function lookup.notes_on_me() returns setof public.student_notes
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  select n.* from public.student_notes n
  where n.student_id = nullif(current_setting('app.person_id', true), '')::uuid
    and n.school_id = nullif(current_setting('app.school_id', true), '')::uuid
$$;

-- The only students a person sees, or null where that is not the rule: for students, chiefs, and at a school that shows instructors all.
create function lookup.only_students_of(school uuid, person uuid, roles text[]) returns uuid[]
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  select array(select lookup.students_of(only_students_of.school, only_students_of.person))
  from public.schools s
  where s.id = only_students_of.school and s.instructors_see_own_students_only
    and 'instructor' = any (only_students_of.roles) and not 'chief' = any (only_students_of.roles)
$$;

-- A request came with a session: may it still be used, and who is it? Its use is noted to within five minutes; more would be a write
-- for each request.
create function lookup.session_holder(school uuid, person uuid, session uuid, at_utc timestamptz)
  returns table (school_id uuid, person_id uuid, display_name text, roles text[], own_students uuid[], ip text, user_agent text,
    password_at_utc timestamptz, suspended boolean)
  language sql volatile security definer set search_path = pg_catalog, pg_temp as $$
  update public.sessions s set last_seen_at_utc = session_holder.at_utc
    where s.id = session_holder.session and s.person_id = session_holder.person and s.school_id = session_holder.school
      and s.ended_at_utc is null and s.expires_at_utc > session_holder.at_utc
      and s.last_seen_at_utc < session_holder.at_utc - interval '5 minutes';
  select p.school_id, p.id, p.display_name, p.roles, lookup.only_students_of(p.school_id, p.id, p.roles), s.ip, s.user_agent,
      s.password_at_utc, c.suspended_at_utc is not null
    from public.sessions s join public.people p on p.id = s.person_id and p.active join public.schools c on c.id = p.school_id
    where s.id = session_holder.session and s.person_id = session_holder.person and s.school_id = session_holder.school
      and s.ended_at_utc is null and s.expires_at_utc > session_holder.at_utc;
$$;

-- A program called with a token: may it still be used, and as whom?
create function lookup.token_holder(hash text, at_utc timestamptz)
  returns table (school_id uuid, person_id uuid, display_name text, roles text[], own_students uuid[], scope text,
    suspended boolean)
  language sql volatile security definer set search_path = pg_catalog, pg_temp as $$
  update public.api_tokens t set last_used_at_utc = token_holder.at_utc
    where t.hash = token_holder.hash and t.revoked_at_utc is null and t.expires_at_utc > token_holder.at_utc
      and (t.last_used_at_utc is null or t.last_used_at_utc < token_holder.at_utc - interval '5 minutes');
  select p.school_id, p.id, p.display_name, p.roles, lookup.only_students_of(p.school_id, p.id, p.roles), t.scope,
      c.suspended_at_utc is not null
    from public.api_tokens t join public.people p on p.id = t.person_id and p.active join public.schools c on c.id = p.school_id
    where t.hash = token_holder.hash and t.revoked_at_utc is null and t.expires_at_utc > token_holder.at_utc;
$$;

-- Sign-in: which persons, of which schools, have this address?
create function lookup.person_by_email(email text) returns table (id uuid, school_id uuid)
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  select p.id, p.school_id from public.people p where p.normalized_email = person_by_email.email
$$;

-- A link was opened: whose is it?
create function lookup.link_by_hash(hash text) returns table (id uuid, school_id uuid)
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  select l.id, l.school_id from public.entry_links l where l.hash = link_by_hash.hash
$$;

-- Upload: may the school on whose behalf the connection works keep one more? Asked in the transaction that keeps it. Where the operator
-- set a limit, for this school or for all (the arguments), one recording of the school is taken at a time to the end of the transaction.
create function lookup.intake_room(usual_bytes bigint, usual_uploads integer, at_utc timestamptz)
  returns table (suspended boolean, stored_bytes bigint, most_bytes bigint, most_uploads integer, uploads_again_at_utc timestamptz)
  language plpgsql volatile security definer set search_path = pg_catalog, pg_temp as $$
declare
  school uuid := nullif(current_setting('app.school_id', true), '')::uuid;
begin
  select coalesce(s.most_stored_bytes, usual_bytes), coalesce(s.most_uploads_an_hour, usual_uploads) into most_bytes, most_uploads
    from public.schools s where s.id = school;
  if most_bytes is not null or most_uploads is not null then
    perform pg_advisory_xact_lock(hashtextextended('intake ' || school, 0));
  end if;
  select s.suspended_at_utc is not null, s.stored_bytes into suspended, stored_bytes from public.schools s where s.id = school;
  if most_uploads is not null then
    select a.uploaded_at_utc + interval '1 hour' into uploads_again_at_utc from public.attempts a
      where a.school_id = school and a.uploaded_at_utc > at_utc - interval '1 hour'
      order by a.uploaded_at_utc desc offset most_uploads - 1 limit 1;
  end if;
  return next;
end $$;

-- Start: which schools are there?
create function lookup.school_ids() returns table (id uuid)
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  select s.id from public.schools s
$$;

-- Queue: what waits to be scored, with its claim where a worker has one or its next try is later.
create function lookup.waiting_attempts() returns table (id uuid, school_id uuid, since timestamptz, claimed boolean, held boolean)
  language sql volatile security definer set search_path = pg_catalog, pg_temp as $$
  select a.id, a.school_id, coalesce(a.queued_at_utc, a.uploaded_at_utc), coalesce(c.until_utc > clock_timestamp(), false),
    coalesce(c.until_utc > clock_timestamp(), false) and c.holder is not null
  from public.attempts a left join public.scoring_claims c on c.attempt_id = a.id where a.status in ('queued', 'scoring')
$$;

-- Queue: the next recording for a worker, claimed for so long. Schools take turns: the one with the fewest recordings being scored, of
-- these the one that was served longest ago; within a school whichever waits longest. What a killed worker held is free when its claim
-- is over, and since it has waited longest it is then the next of its school. Of two workers who ask at once the second waits for the
-- first, and sees what that one took.
create function lookup.claim_recording(holder uuid, lease interval) returns table (attempt_id uuid, school_id uuid, tries integer)
  language plpgsql volatile security definer set search_path = pg_catalog, pg_temp as $$
#variable_conflict use_column
declare
  next record;
begin
  perform pg_advisory_xact_lock(hashtextextended('scoring claims', 0));
  -- Of workers that died between score and end.
  delete from public.scoring_claims c using public.attempts a
    where a.id = c.attempt_id and c.until_utc < clock_timestamp() and a.status not in ('queued', 'scoring');
  with waiting as materialized (select * from lookup.waiting_attempts()),
  being_scored as (select w.school_id, count(*) as recordings from waiting w where w.held group by w.school_id),
  oldest as (select distinct on (w.school_id) w.id, w.school_id, w.since from waiting w where not w.claimed
    order by w.school_id, w.since, w.id)
  select o.id, o.school_id into next from oldest o
    join public.schools s on s.id = o.school_id left join being_scored b on b.school_id = o.school_id
    order by coalesce(b.recordings, 0), s.scoring_served_at_utc nulls first, o.since, o.id limit 1;
  if next.id is null then
    return;
  end if;
  update public.schools s set scoring_served_at_utc = clock_timestamp() where s.id = next.school_id;
  return query insert into public.scoring_claims as c (attempt_id, school_id, holder, tries, until_utc)
    values (next.id, next.school_id, claim_recording.holder, 1, clock_timestamp() + lease)
    on conflict (attempt_id) do update set holder = excluded.holder, tries = c.tries + 1, until_utc = excluded.until_utc
    returning c.attempt_id, c.school_id, c.tries;
end $$;

-- Queue: a living worker keeps its claim, unless somebody else has it meanwhile.
create function lookup.keep_claim(attempt uuid, holder uuid, lease interval) returns boolean
  language sql volatile security definer set search_path = pg_catalog, pg_temp as $$
  with kept as (
    update public.scoring_claims c set until_utc = clock_timestamp() + lease
    where c.attempt_id = keep_claim.attempt and c.holder = keep_claim.holder returning 1)
  select exists (select from kept)
$$;

create function lookup.end_claim(attempt uuid, holder uuid) returns void
  language sql volatile security definer set search_path = pg_catalog, pg_temp as $$
  delete from public.scoring_claims c where c.attempt_id = end_claim.attempt and c.holder = end_claim.holder
$$;

-- Queue: nobody's until the pause is over. What is given back unharmed (not counted) was no try.
create function lookup.put_off_claim(attempt uuid, holder uuid, pause interval, counted boolean) returns void
  language sql volatile security definer set search_path = pg_catalog, pg_temp as $$
  update public.scoring_claims c
  set holder = null, until_utc = clock_timestamp() + pause, tries = c.tries - case when counted then 0 else 1 end
  where c.attempt_id = put_off_claim.attempt and c.holder = put_off_claim.holder
$$;

-- Queue: does anything wait for a worker, whichever school's? What is rescored gives way to it.
create function lookup.recording_waits() returns boolean
  language sql volatile security definer set search_path = pg_catalog, pg_temp as $$
  select exists (select from lookup.waiting_attempts() w where not w.claimed)
$$;

-- Queue: how many are likely to be taken before one of this school that waits since then? Schools take turns, so that of each other one
-- at most as many come first as of one's own, and one more. A student sees no attempts but his own.
create function lookup.attempts_before(at_utc timestamptz) returns integer
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  with waiting as (
    select a.school_id, coalesce(a.queued_at_utc, a.uploaded_at_utc) as since,
      a.school_id = nullif(current_setting('app.school_id', true), '')::uuid as own
    from public.attempts a where a.status in ('queued', 'scoring')),
  before as (select count(*) as own from waiting w where w.own and w.since < attempts_before.at_utc),
  others as (select count(*) as recordings from waiting w where not w.own group by w.school_id)
  select (b.own + coalesce((select sum(least(o.recordings, b.own + 1)) from others o), 0))::integer from before b
$$;

-- Progress: how do the school's other students do? Counts of the segments of its newest thousand attempts, one row a student, drill
-- version and kind. A name stands only beside those asked about, so that their own can be left out; nothing is told where there are
-- fewer than five others.
create function lookup.segment_counts(students uuid[])
  returns table (student_id uuid, drill_version_id uuid, kind text, parameter text, aircraft text, air_data boolean, attempts integer,
    segments integer, not_met integer)
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  with newest as (
    select a.id, a.student_id, a.drill_version_id, a.aircraft, a.has_air_data as air_data, a.latest_report_id from public.attempts a
    where a.school_id = nullif(current_setting('app.school_id', true), '')::uuid and a.latest_report_id is not null
    order by a.uploaded_at_utc desc limit 1000),
  told as materialized (select n.* from newest n where (
    select count(distinct n.student_id) > 5 or count(distinct n.student_id) filter (where n.student_id <> all (students)) >= 5
    from newest n))
  select case when o.student_id = any (students) then o.student_id end, o.drill_version_id, r.kind, r.parameter, o.aircraft, o.air_data,
    count(distinct o.id)::integer, count(*)::integer, (count(*) filter (where r.verdict = 'not-met'))::integer
  from told o cross join lateral (
    -- "offset 0" keeps to one look along the key for each attempt, whatever the planner thinks of the whole table.
    select x.kind, x.parameter, x.verdict from public.segment_results x
    where x.report_id = o.latest_report_id and x.verdict <> 'not-measured' offset 0) r
  group by o.student_id, o.drill_version_id, r.kind, r.parameter, o.aircraft, o.air_data
$$;

-- Visibility: which students are the viewer's own?
create function lookup.own_students() returns setof uuid
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  select lookup.students_of(
    nullif(current_setting('app.school_id', true), '')::uuid, nullif(current_setting('app.person_id', true), '')::uuid)
$$;

-- Visibility: is the viewer a chief of the school?
create function lookup.is_chief() returns boolean
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  select exists (
    select from public.people p
    where p.school_id = nullif(current_setting('app.school_id', true), '')::uuid
      and p.id = nullif(current_setting('app.person_id', true), '')::uuid
      and p.active and 'chief' = any (p.roles))
$$;

revoke execute on all functions in schema lookup from public;
grant execute on function
  lookup.session_holder(uuid, uuid, uuid, timestamptz), lookup.token_holder(text, timestamptz), lookup.attempts_before(timestamptz),
  lookup.intake_room(bigint, integer, timestamptz), lookup.segment_counts(uuid[]), lookup.own_students(),
  lookup.notes_on_me(), lookup.is_chief()
  to schooldrills_app;
grant execute on function lookup.person_by_email(text), lookup.link_by_hash(text) to schooldrills_accounts;
grant execute on function lookup.school_ids() to schooldrills_accounts, schooldrills_jobs;
grant execute on function
  lookup.claim_recording(uuid, interval), lookup.keep_claim(uuid, uuid, interval), lookup.end_claim(uuid, uuid),
  lookup.put_off_claim(uuid, uuid, interval, boolean), lookup.recording_waits()
  to schooldrills_jobs;
grant execute on function lookup.is_chief() to schooldrills_eraser;

reset role;
