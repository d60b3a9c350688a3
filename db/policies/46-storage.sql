-- Bytes of a school's recordings as they are kept, in the school's own row, for the limit that the operator sets. Counted at the end of
-- the transaction that keeps or drops one, whoever does, so that uploads of a school wait for one another no longer than that; under the
-- lock of the tallies, so that both are always taken in one order. What was kept before is counted at the start (DatabaseTallies).

grant update (stored_bytes) on schools to schooldrills_lookup;

set local role schooldrills_lookup;

create function tally.recording_kept() returns trigger
  language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
begin
  perform tally.lock_school(new.school_id);
  update public.schools s set stored_bytes = s.stored_bytes + octet_length(new.content) where s.id = new.school_id;
  return null;
end $$;

create function tally.recording_gone() returns trigger
  language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
begin
  perform tally.lock_school(old.school_id);
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
