-- What each role may do at all; the policies of the scripts that follow then say with which rows. What is not granted here is refused:
-- there is no default. Nobody who serves may delete or truncate anything but what is listed under "delete".

revoke create on schema public from public;
revoke usage on schema public from public;
grant usage on schema public to schooldrills_app, schooldrills_jobs, schooldrills_accounts;

-- Requests: work, and the school's own things. Nothing here opens an account, and people are changed by the next role.
grant select on
  aircraft_profiles, assignment_plans, assignments, attempt_corrections, attempt_events, attempts, audit_entries, column_mappings,
  day_tallies, drill_versions, flight_logs, grade_acknowledgements, grades, load_ratings, notices, pending_tracks, people,
  practice_areas, rescoring_items, rescorings, schools, score_reports, segment_results, self_assessments, student_summaries,
  student_tallies, tolerance_standards, track_files, track_plots
  to schooldrills_app;
grant insert on
  aircraft_profiles, assignment_plans, assignments, attempt_corrections, attempt_events, attempts, audit_entries, column_mappings,
  drill_versions, flight_logs, grade_acknowledgements, grades, load_ratings, notices, pending_tracks, practice_areas,
  rescoring_items, rescorings, self_assessments, tolerance_standards, track_files
  to schooldrills_app;
grant update on attempt_events, drill_versions, grades, load_ratings, self_assessments to schooldrills_app;
-- What a chief sets; whether the school is suspended and how much it may send are the operator's, who connects as the owner.
grant update (name, time_zone, grade_scale, grading, instructors_see_own_students_only, instructors_draft, retention_rules,
    retention_own_years, stages, due_in_days, soon_days, digest_hour, start_skipped, start_dismissed, recording_tried_at_utc) on schools
  to schooldrills_app;
grant update (started_at_utc, ended_at_utc, clock_ahead_s, sent_minus_arrived_s, by_hand_s, attempt_id, events) on flight_logs
  to schooldrills_app;
grant update (asked, drill_version, revision, planned_by_id, planned_at_utc) on assignment_plans to schooldrills_app;
grant update (cancelled_at_utc) on assignments to schooldrills_app;
grant update (retired_at_utc) on aircraft_profiles, tolerance_standards to schooldrills_app;
grant select, insert, delete on drill_examples, student_notes to schooldrills_app;
grant update (text, changed_at_utc, revision) on student_notes to schooldrills_app;
grant select, insert on drill_draft_revisions to schooldrills_app;
grant update (read_at_utc) on notices to schooldrills_app;
grant update (job_id, ended_at_utc, stopped_by_id) on rescorings to schooldrills_app;
-- A score is the jobs' to write.
grant update (meta, status, stage, reason, queued_at_utc, job_id, trace_parent, revision) on attempts to schooldrills_app;
grant delete on drill_versions, pending_tracks, practice_areas to schooldrills_app;
-- What was taken from a flight's log goes when it was taken back there; 35-visibility.sql leaves all other events alone.
grant delete on attempt_events to schooldrills_app, schooldrills_jobs;

-- Jobs: read a recording, write its score; remind of what is due.
grant select on
  assignments, attempt_corrections, attempt_events, attempts, drill_versions, flight_logs, grades, notices, rescoring_items,
  rescorings, schools, score_reports, segment_results, tolerance_standards, track_files, track_plots
  to schooldrills_jobs;
grant select (id, school_id, active, email, notice_mail, digest_on) on people to schooldrills_jobs;
grant select (id, school_id, sent_at_utc) on pending_tracks to schooldrills_jobs;
grant select (id, school_id, slug, revision, replaced_at_utc) on drill_draft_revisions to schooldrills_jobs;
grant select (id) on audit_entries to schooldrills_jobs;
grant insert on audit_entries, notices, rescoring_items, rescorings, score_reports, segment_results, track_plots to schooldrills_jobs;
grant update on attempts, rescoring_items to schooldrills_jobs;
grant update (job_id, ended_at_utc, stopped_by_id) on rescorings to schooldrills_jobs;
grant insert, update on attempt_events to schooldrills_jobs;
grant update (attempt_id) on flight_logs to schooldrills_jobs;
grant select on day_tallies, student_summaries, student_tallies to schooldrills_jobs;
grant update (digest_on) on people to schooldrills_jobs;
grant update (mailed_at_utc) on notices to schooldrills_jobs;
grant delete on drill_draft_revisions, notices, pending_tracks to schooldrills_jobs;

-- Accounts: signing in, links, tokens, the school's people, and a fresh school with its catalogue. No work of any student.
grant select, insert, update on api_tokens, credentials, entry_links, people, sessions to schooldrills_accounts;
grant select, insert, update, delete on first_run_tokens, sign_in_failures to schooldrills_accounts;
grant select, insert on aircraft_profiles, data_protection_keys, drill_versions, schools, tolerance_standards to schooldrills_accounts;
grant select (id) on audit_entries to schooldrills_accounts;
grant insert on audit_entries to schooldrills_accounts;
-- An invitation taken back; what the account has done would hold it.
grant delete on people to schooldrills_accounts;

create schema if not exists hangfire authorization schooldrills_hangfire;
