-- What each role may do at all; the walls of 20-school-wall.sql then say with which rows.
-- Every script here is run again whenever a table or a script changed, so each must bear repetition.

revoke create on schema public from public;
grant usage on schema public to schooldrills_app, schooldrills_jobs;
grant select, insert, update, delete on all tables in schema public to schooldrills_app, schooldrills_jobs;
grant usage, select on all sequences in schema public to schooldrills_app, schooldrills_jobs;

-- Which migrations ran is the owner's business; how people sign in is not the jobs'.
do $$
declare
  closed record;
begin
  for closed in
    select * from (values
      ('__EFMigrationsHistory', 'schooldrills_app, schooldrills_jobs'),
      ('people', 'schooldrills_jobs'),
      ('sessions', 'schooldrills_jobs'),
      ('first_run_tokens', 'schooldrills_jobs'),
      ('data_protection_keys', 'schooldrills_jobs')) as c (table_name, roles)
  loop
    if to_regclass(format('public.%I', closed.table_name)) is not null then
      execute format('revoke all on public.%I from %s', closed.table_name, closed.roles);
    end if;
  end loop;
  if to_regclass('public.people') is not null then
    grant select (id, school_id, display_name, roles, active) on public.people to schooldrills_jobs;
  end if;
end $$;

create schema if not exists hangfire;
alter schema hangfire owner to schooldrills_hangfire;
