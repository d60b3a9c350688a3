-- Bytes of a school's recordings as they are kept, in the school's own row, for the limit that the operator sets. Counted at the end of
-- the transaction that keeps or drops one, whoever does, so that uploads of a school wait for one another no longer than that.

grant update (stored_bytes) on schools to schooldrills_lookup;

set local role schooldrills_lookup;

create function tally.recording_kept() returns trigger
  language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
begin
  update public.schools s set stored_bytes = s.stored_bytes + octet_length(new.content) where s.id = new.school_id;
  return null;
end $$;

create function tally.recording_gone() returns trigger
  language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
begin
  update public.schools s set stored_bytes = s.stored_bytes - octet_length(old.content) where s.id = old.school_id;
  return null;
end $$;

reset role;

create constraint trigger kept after insert on track_files deferrable initially deferred for each row
  execute function tally.recording_kept();
create constraint trigger kept after insert on pending_tracks deferrable initially deferred for each row
  execute function tally.recording_kept();
create constraint trigger gone after delete on track_files deferrable initially deferred for each row
  execute function tally.recording_gone();
create constraint trigger gone after delete on pending_tracks deferrable initially deferred for each row
  execute function tally.recording_gone();

-- What was kept before it was counted; after the triggers are there, so that nothing comes in between.
do $$
declare
  school uuid;
begin
  for school in select id from lookup.school_ids() loop
    perform set_config('app.school_id', school::text, true);
    update schools s set stored_bytes = kept.bytes from (
      select coalesce(sum(octet_length(content)), 0) as bytes from (
        select content from track_files f where f.school_id = school
        union all select content from pending_tracks p where p.school_id = school) as recordings) kept
      where s.id = school and s.stored_bytes <> kept.bytes;
  end loop;
  perform set_config('app.school_id', '', true);
end $$;
