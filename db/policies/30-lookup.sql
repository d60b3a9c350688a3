-- The three questions that have to be asked before a school is known, each answered with keys alone. They run as a
-- role that can sign in nowhere and read these few columns only.

create schema if not exists lookup;
alter schema lookup owner to schooldrills_lookup;
grant usage on schema public to schooldrills_lookup;
grant usage on schema lookup to schooldrills_app, schooldrills_jobs;

-- Sign-in: which person, of which school, has this address?
-- Start and nightly work: which schools are there?
-- Sweep: which attempts are stored and not scored?
do $$
declare
  readable record;
begin
  for readable in
    select * from (values
      ('people', 'id, school_id, normalized_email'),
      ('schools', 'id'),
      ('attempts', 'id, school_id, status, uploaded_at_utc')) as r (table_name, columns)
  loop
    if to_regclass('public.' || readable.table_name) is not null then
      execute format('grant select (%s) on public.%I to schooldrills_lookup', readable.columns, readable.table_name);
      execute format('drop policy if exists lookup on public.%I', readable.table_name);
      execute format('create policy lookup on public.%I for select to schooldrills_lookup using (true)', readable.table_name);
    end if;
  end loop;
end $$;

set local role schooldrills_lookup;

create or replace function lookup.person_by_email(email text) returns table (id uuid, school_id uuid)
  language plpgsql stable security definer set search_path = pg_catalog, pg_temp as $$
begin
  return query select p.id, p.school_id from public.people p where p.normalized_email = person_by_email.email;
end $$;

create or replace function lookup.school_ids() returns table (id uuid)
  language plpgsql stable security definer set search_path = pg_catalog, pg_temp as $$
begin
  return query select s.id from public.schools s;
end $$;

create or replace function lookup.unscored_attempts() returns table (attempt_id uuid, school_id uuid)
  language plpgsql stable security definer set search_path = pg_catalog, pg_temp as $$
begin
  return query select a.id, a.school_id from public.attempts a where a.status in ('queued', 'scoring') order by a.uploaded_at_utc;
end $$;

revoke execute on all functions in schema lookup from public;
grant execute on function lookup.person_by_email(text) to schooldrills_app;
grant execute on function lookup.school_ids() to schooldrills_app, schooldrills_jobs;
grant execute on function lookup.unscored_attempts() to schooldrills_jobs;

reset role;
