-- Questions that come before a school is known, or that go past what one person sees of it; each is answered with keys or a number
-- alone. They run as a role that can sign in nowhere and reads these few columns only.

create schema if not exists lookup;
alter schema lookup owner to schooldrills_lookup;
grant usage on schema public to schooldrills_lookup;
grant usage on schema lookup to schooldrills_app, schooldrills_jobs;

grant select (id, school_id, normalized_email, roles, active) on people to schooldrills_lookup;
grant select (id) on schools to schooldrills_lookup;
grant select (id, school_id, status, uploaded_at_utc) on attempts to schooldrills_lookup;
grant select (id, school_id, hash) on entry_links, api_tokens to schooldrills_lookup;
grant select (school_id, student_id, assigned_by_id) on assignments to schooldrills_lookup;

create policy lookup on people for select to schooldrills_lookup using (true);
create policy lookup on schools for select to schooldrills_lookup using (true);
create policy lookup on attempts for select to schooldrills_lookup using (true);
create policy lookup on entry_links for select to schooldrills_lookup using (true);
create policy lookup on api_tokens for select to schooldrills_lookup using (true);
create policy lookup on assignments for select to schooldrills_lookup using (true);

set local role schooldrills_lookup;

-- Sign-in: which persons, of which schools, have this address?
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

-- A link was opened: whose is it?
create or replace function lookup.link_by_hash(hash text) returns table (id uuid, school_id uuid)
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  select l.id, l.school_id from public.entry_links l where l.hash = link_by_hash.hash
$$;

-- A program called with a token: whose is it?
create or replace function lookup.token_by_hash(hash text) returns table (id uuid, school_id uuid)
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  select t.id, t.school_id from public.api_tokens t where t.hash = token_by_hash.hash
$$;

-- Queue: how many are before one that came at this time? A student sees no attempts but his own.
create or replace function lookup.attempts_before(at_utc timestamptz) returns integer
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  select count(*)::integer from public.attempts a where a.status in ('queued', 'scoring') and a.uploaded_at_utc < attempts_before.at_utc
$$;

-- Visibility: is the person who asks a chief of the school?
create or replace function lookup.is_chief() returns boolean
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  select exists (
    select from public.people p
    where p.school_id = nullif(current_setting('app.school_id', true), '')::uuid
      and p.id = nullif(current_setting('app.person_id', true), '')::uuid
      and p.active and 'chief' = any (p.roles))
$$;

-- Visibility: which students of the school did the person who asks give an assignment to?
create or replace function lookup.own_students() returns setof uuid
  language sql stable security definer set search_path = pg_catalog, pg_temp as $$
  select distinct a.student_id from public.assignments a
  where a.school_id = nullif(current_setting('app.school_id', true), '')::uuid
    and a.assigned_by_id = nullif(current_setting('app.person_id', true), '')::uuid
$$;

revoke execute on all functions in schema lookup from public, schooldrills_app, schooldrills_jobs;
grant execute on function lookup.person_by_email(text) to schooldrills_app;
grant execute on function lookup.link_by_hash(text), lookup.token_by_hash(text) to schooldrills_app;
grant execute on function lookup.attempts_before(timestamptz), lookup.own_students(), lookup.is_chief() to schooldrills_app;
grant execute on function lookup.school_ids() to schooldrills_app, schooldrills_jobs;
grant execute on function lookup.unscored_attempts() to schooldrills_jobs;

reset role;
