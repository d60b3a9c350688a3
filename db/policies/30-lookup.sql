-- The three questions that have to be asked before a school is known, each answered with keys alone. They run as a
-- role that can sign in nowhere and read these few columns only.

create schema if not exists lookup;
alter schema lookup owner to schooldrills_lookup;
grant usage on schema public to schooldrills_lookup;
grant usage on schema lookup to schooldrills_app, schooldrills_jobs;

grant select (id, school_id, normalized_email) on people to schooldrills_lookup;
grant select (id) on schools to schooldrills_lookup;
grant select (id, school_id, status, uploaded_at_utc) on attempts to schooldrills_lookup;

drop policy if exists lookup on people;
drop policy if exists lookup on schools;
drop policy if exists lookup on attempts;
create policy lookup on people for select to schooldrills_lookup using (true);
create policy lookup on schools for select to schooldrills_lookup using (true);
create policy lookup on attempts for select to schooldrills_lookup using (true);

set local role schooldrills_lookup;

-- Sign-in: which person, of which school, has this address?
create or replace function lookup.person_by_email(email text) returns table (id uuid, school_id uuid)
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  select p.id, p.school_id from public.people p where p.normalized_email = person_by_email.email
$$;

-- Start: which schools are there?
create or replace function lookup.school_ids() returns table (id uuid)
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  select s.id from public.schools s
$$;

-- Sweep: which attempts are stored and not scored?
create or replace function lookup.unscored_attempts() returns table (attempt_id uuid, school_id uuid)
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  select a.id, a.school_id from public.attempts a where a.status in ('queued', 'scoring') order by a.uploaded_at_utc
$$;

revoke execute on all functions in schema lookup from public;
grant execute on function lookup.person_by_email(text) to schooldrills_app;
grant execute on function lookup.school_ids() to schooldrills_app, schooldrills_jobs;
grant execute on function lookup.unscored_attempts() to schooldrills_jobs;

reset role;
