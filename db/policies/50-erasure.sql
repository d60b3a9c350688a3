-- Erasing a person: what tells who it was goes, what the school's figures are made of stays under a pseudonym. The function runs as
-- a role that signs in nowhere, owns nothing else and is isolated to the school like all others; it alone may change what else
-- never changes. Whether a person may be erased at all (rules on keeping records) is asked before, by the API; a hold is asked here too.

create schema if not exists erasure;
alter schema erasure owner to schooldrills_eraser;
grant usage on schema public to schooldrills_eraser;
grant usage on schema erasure to schooldrills_app;
grant select, update on people, assignments, attempts, attempt_events, attempt_corrections, self_assessments, grades, grade_acknowledgements, audit_entries, score_reports to schooldrills_eraser;
grant select, delete on sessions, entry_links, api_tokens, pending_tracks, track_files, track_plots to schooldrills_eraser;

set local role schooldrills_eraser;

create or replace function erasure.erase_person(person uuid, pseudonym text) returns void
  language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
begin
  if exists (select from public.people p where p.id = person and p.legal_hold) then
    raise exception 'This person is under a legal hold.' using errcode = 'insufficient_privilege';
  end if;
  update public.people p set
    display_name = pseudonym, email = null, normalized_email = null, user_name = 'erased-' || p.id, normalized_user_name = upper('erased-' || p.id), email_confirmed = false,
    phone_number = null, password_hash = null, security_stamp = null, authenticator_key = null, two_factor_enabled = false, recovery_code_hashes = '{}',
    hold_reason = null, active = false, left_at_utc = coalesce(p.left_at_utc, now()), erased_at_utc = now()
  where p.id = person;
  if not found then
    raise exception 'There is no such person in this school.' using errcode = 'no_data_found';
  end if;
  delete from public.sessions where person_id = person;
  delete from public.entry_links where person_id = person;
  delete from public.api_tokens where person_id = person;
  delete from public.pending_tracks where person_id = person;

  -- Where somebody flew, and in whose words it was told.
  delete from public.track_files f using public.attempts a where f.attempt_id = a.id and a.student_id = person;
  delete from public.track_plots t using public.score_reports r, public.attempts a where t.report_id = r.id and r.attempt_id = a.id and a.student_id = person;
  update public.attempts a set file_name = 'erased', meta = '{}', sha256 = encode(sha256(convert_to(a.id::text, 'UTF8')), 'hex') where a.student_id = person;
  update public.attempt_events e set detail = null from public.attempts a where e.attempt_id = a.id and a.student_id = person;
  update public.self_assessments s set comment = null from public.attempts a where s.attempt_id = a.id and a.student_id = person;
  update public.attempt_corrections c set reason = null, by_hand = case when c.by_hand ? 'leftOut' then jsonb_set(c.by_hand, '{leftOut}',
    (select coalesce(jsonb_agg(s || '{"reason": "erased"}' order by n), '[]') from jsonb_array_elements(c.by_hand -> 'leftOut') with ordinality as e (s, n))) else c.by_hand end
    from public.attempts a where c.attempt_id = a.id and a.student_id = person;
  update public.score_reports r set report = r.report - 'corrections' from public.attempts a where r.attempt_id = a.id and a.student_id = person and r.report ? 'corrections';
  update public.assignments set notes = null where student_id = person;
  update public.grade_acknowledgements k set reply = null
    from public.grades g, public.attempts a where k.grade_id = g.id and g.attempt_id = a.id and a.student_id = person;
  update public.grades g set
    comment = null, amendment_reason = case when g.amendment_reason is null then null else 'erased' end,
    segments = (select coalesce(jsonb_agg(s - 'comment' order by n), '[]') from jsonb_array_elements(g.segments) with ordinality as e (s, n))
    from public.attempts a where g.attempt_id = a.id and a.student_id = person;

  -- The trail keeps who did what when; it loses names, words and places that were this person's.
  update public.audit_entries e set ip = null, user_agent = null where e.person_id = person;
  update public.audit_entries e set detail = null, changes = '[]'
    where e.subject_id = person
      or e.subject_id in (select a.id from public.attempts a where a.student_id = person union all select s.id from public.assignments s where s.student_id = person);
end $$;

revoke execute on all functions in schema erasure from public;
grant execute on function erasure.erase_person(uuid, text) to schooldrills_app;

reset role;
