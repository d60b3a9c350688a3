-- Takes away what an earlier version of these scripts made, under whatever name, so that an upgraded database ends with exactly what
-- a fresh one has. All scripts run again, in order and in one transaction, whenever a table or a script changed.

do $$
declare
  old record;
begin
  for old in select tablename, policyname from pg_policies where schemaname = 'public' loop
    execute format('drop policy %I on public.%I', old.policyname, old.tablename);
  end loop;
  for old in
    select t.tgname, c.relname from pg_trigger t join pg_class c on c.oid = t.tgrelid
    where c.relnamespace = 'public'::regnamespace and not t.tgisinternal
  loop
    execute format('drop trigger %I on public.%I', old.tgname, old.relname);
  end loop;
  -- The functions of the two schemas belong to roles of their own; who drops them has to be that role.
  for old in
    select p.oid::regprocedure as name, n.nspowner::regrole as owner from pg_proc p join pg_namespace n on n.oid = p.pronamespace
    where n.nspname in ('lookup', 'erasure', 'tally')
  loop
    execute format('set local role %s', old.owner);
    execute format('drop function %s', old.name);
    reset role;
  end loop;
end $$;

create schema if not exists setup;
revoke all on schema setup from public;

revoke all on all tables in schema public
  from public, schooldrills_app, schooldrills_jobs, schooldrills_accounts, schooldrills_lookup, schooldrills_eraser;
revoke all on all sequences in schema public from schooldrills_app, schooldrills_jobs, schooldrills_accounts;
