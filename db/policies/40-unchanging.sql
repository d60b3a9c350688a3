-- What must stay as it was written: the audit trail, scores, recordings, tolerance standards, published drills, signed grades. By
-- trigger, so that it holds for every role, the owner included; erasing a person (50-erasure.sql) is the one exception.

create or replace function public.refuse_change() returns trigger language plpgsql as $$
begin
  raise exception 'A row of % is not %d once it is written.', tg_table_name, lower(tg_op) using errcode = 'insufficient_privilege';
end $$;

do $$
declare
  kept record;
begin
  for kept in
    select * from (values
      ('audit_entries', 'true', 'true'),
      ('score_reports', 'true', 'true'),
      ('segment_results', 'true', 'true'),
      ('track_plots', 'true', 'true'),
      ('track_files', 'true', 'true'),
      ('attempt_corrections', 'true', 'true'),
      ('grade_acknowledgements', 'true', 'true'),
      ('aircraft_profiles', 'to_jsonb(old) - ''retired_at_utc'' is distinct from to_jsonb(new) - ''retired_at_utc''', 'true'),
      ('tolerance_standards', 'to_jsonb(old) - ''retired_at_utc'' is distinct from to_jsonb(new) - ''retired_at_utc''', 'true'),
      ('grades', 'old.signed_at_utc is not null', 'old.signed_at_utc is not null'),
      ('drill_versions', 'old.state <> ''draft'' and old.template is distinct from new.template', 'old.state <> ''draft'''),
      ('attempts', null, 'true'),
      -- An invitation can be taken back, an account closed and erased.
      ('people', null, 'old.has_accepted')) as k (table_name, unless_updated, unless_deleted)
  loop
    if kept.unless_updated is not null then
      execute format(
        'create trigger unchanging before update on public.%I for each row
           when ((%s) and current_user <> ''schooldrills_eraser'') execute function public.refuse_change()',
        kept.table_name, kept.unless_updated);
    end if;
    execute format(
      'create trigger undeletable before delete on public.%I for each row
         when ((%s) and current_user <> ''schooldrills_eraser'') execute function public.refuse_change()',
      kept.table_name, kept.unless_deleted);
    execute format(
      'create trigger untruncatable before truncate on public.%I for each statement execute function public.refuse_change()',
      kept.table_name);
  end loop;
end $$;
