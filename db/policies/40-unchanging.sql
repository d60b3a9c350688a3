-- What must stay as it was written: the audit trail, scores, recordings, tolerance standards, published drills, signed grades.
-- By trigger, so that it holds for every role, the owner included; erasing a person (50-erasure.sql) is the one exception.

create or replace function public.refuse_change() returns trigger language plpgsql as $$
begin
  raise exception 'A row of % does not change once it is written.', tg_table_name using errcode = 'insufficient_privilege';
end $$;

do $$
declare
  kept record;
begin
  for kept in
    select * from (values
      ('audit_entries', 'update or delete', 'true'),
      ('score_reports', 'update', 'true'),
      ('attempt_corrections', 'update', 'true'),
      ('track_files', 'update', 'true'),
      ('tolerance_standards', 'update', 'true'),
      ('drill_versions', 'update', 'old.state <> ''draft'' and old.template is distinct from new.template'),
      ('grades', 'update', 'old.signed_at_utc is not null'),
      ('grade_acknowledgements', 'update', 'true')) as k (table_name, events, condition)
  loop
    execute format('drop trigger if exists unchanging on public.%I', kept.table_name);
    execute format(
      'create trigger unchanging before %s on public.%I for each row when ((%s) and current_user <> ''schooldrills_eraser'') execute function public.refuse_change()',
      kept.events, kept.table_name, kept.condition);
  end loop;
end $$;

revoke update, delete, truncate on public.audit_entries from schooldrills_app, schooldrills_jobs;
drop trigger if exists unchanging_whole on public.audit_entries;
create trigger unchanging_whole before truncate on public.audit_entries for each statement execute function public.refuse_change();
