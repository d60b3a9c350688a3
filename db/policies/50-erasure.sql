-- Erasing a person: what tells who it was goes, what the school's figures are made of stays under a pseudonym. The function runs as
-- a role that signs in nowhere, owns nothing else and is isolated to the school like all others; it alone may change and delete what
-- else stays as it was written. Whether the rules on keeping records allow it is decided before, by the API; that a chief asks, that
-- the account is closed and that there is no hold is checked here too.

create schema if not exists erasure authorization schooldrills_eraser;
grant usage on schema public to schooldrills_eraser;
grant usage on schema erasure to schooldrills_app;
grant select, update on
  assignments, attempt_corrections, attempt_events, attempts, audit_entries, grade_acknowledgements, grades, people, score_reports,
  self_assessments
  to schooldrills_eraser;
grant select (person_id, school_id), delete on api_tokens, credentials, entry_links, pending_tracks, sessions to schooldrills_eraser;
grant select, delete on assignment_plans, drill_examples, flight_logs, notices, student_notes, track_files, track_plots
  to schooldrills_eraser;

set local role schooldrills_eraser;

create function erasure.erase_person(person uuid, pseudonym text) returns void
  language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
declare
  whose public.people;
begin
  if not lookup.is_chief() then
    raise exception 'Only a chief of the school may have a person erased.' using errcode = 'insufficient_privilege';
  end if;
  select * into whose from public.people p where p.id = person for update;
  if not found then
    raise exception 'There is no such person in this school.' using errcode = 'no_data_found';
  elsif whose.legal_hold then
    raise exception 'This person is under a legal hold.' using errcode = 'insufficient_privilege';
  elsif whose.active then
    raise exception 'The account of this person is open: close it first.' using errcode = 'insufficient_privilege';
  end if;
  update public.people p set
    display_name = pseudonym, email = null, normalized_email = null, has_accepted = false, two_factor_enabled = false,
    hold_reason = null, left_at_utc = coalesce(p.left_at_utc, now()), erased_at_utc = now()
  where p.id = person;
  delete from public.credentials where person_id = person;
  delete from public.sessions where person_id = person;
  delete from public.entry_links where person_id = person;
  delete from public.api_tokens where person_id = person;
  delete from public.pending_tracks where person_id = person;
  delete from public.notices where person_id = person or student_id = person;

  -- Where the person flew and was to fly, and in whose words it was described.
  delete from public.assignment_plans p where p.student_id = person;
  delete from public.student_notes n where n.student_id = person;
  delete from public.flight_logs l where l.student_id = person;
  delete from public.track_files f using public.attempts a where f.attempt_id = a.id and a.student_id = person;
  delete from public.drill_examples e using public.attempts a where e.attempt_id = a.id and a.student_id = person;
  delete from public.track_plots t using public.score_reports r, public.attempts a
    where t.report_id = r.id and r.attempt_id = a.id and a.student_id = person;
  update public.attempts a set file_name = 'erased', meta = '{}', sha256 = encode(sha256(convert_to(a.id::text, 'UTF8')), 'hex')
    where a.student_id = person;
  update public.attempt_events e set detail = null from public.attempts a where e.attempt_id = a.id and a.student_id = person;
  update public.self_assessments s set comment = null from public.attempts a where s.attempt_id = a.id and a.student_id = person;
  update public.attempt_corrections c set reason = null, by_hand = case when c.by_hand ? 'leftOut' then jsonb_set(c.by_hand, '{leftOut}', (
      select coalesce(jsonb_agg(s || '{"reason": "erased"}' order by n), '[]')
      from jsonb_array_elements(c.by_hand -> 'leftOut') with ordinality as e (s, n))) else c.by_hand end
    from public.attempts a where c.attempt_id = a.id and a.student_id = person;
  update public.score_reports r set report = r.report - 'corrections'
    from public.attempts a where r.attempt_id = a.id and a.student_id = person and r.report ? 'corrections';
  update public.assignments set notes = null where student_id = person;
  update public.grade_acknowledgements k set reply = null
    from public.grades g, public.attempts a where k.grade_id = g.id and g.attempt_id = a.id and a.student_id = person;
  update public.grades g set
    comment = null, amendment_reason = case when g.amendment_reason is null then null else 'erased' end,
    segments = (
      select coalesce(jsonb_agg(s - 'comment' order by n), '[]') from jsonb_array_elements(g.segments) with ordinality as e (s, n))
    from public.attempts a where g.attempt_id = a.id and a.student_id = person;

  -- The trail keeps who did what when; it loses names, words and places that were this person's.
  update public.audit_entries e set ip = null, user_agent = null where e.person_id = person;
  update public.audit_entries e set detail = null, changes = '[]'
    where e.subject_id = person
      or e.subject_id in (
        select a.id from public.attempts a where a.student_id = person
        union all select s.id from public.assignments s where s.student_id = person);
end $$;

revoke execute on all functions in schema erasure from public;
grant execute on function erasure.erase_person(uuid, text) to schooldrills_app;

reset role;
