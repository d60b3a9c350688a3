-- School isolation: a connection reads and writes the rows of its school (app.school_id), and none where none is set. A pooled
-- connection that served before has the setting empty rather than absent, hence nullif.

do $$
declare
  t record;
begin
  for t in
    select c.oid::regclass as name, a.attname as school_column
    from pg_class c
    join pg_attribute a on a.attrelid = c.oid and not a.attisdropped
    where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p')
      -- The school's own row is known by its key.
      and (a.attname = 'school_id' or (c.relname = 'schools' and a.attname = 'id'))
  loop
    execute format('alter table %s enable row level security', t.name);
    execute format('alter table %s force row level security', t.name);
    execute format(
      'create policy school_isolation on %1$s
         using (%2$I = nullif(current_setting(''app.school_id'', true), '''')::uuid)
         with check (%2$I = nullif(current_setting(''app.school_id'', true), '''')::uuid)',
      t.name, t.school_column);
  end loop;
end $$;
