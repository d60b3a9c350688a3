-- What each role may do at all; the policies of the scripts that follow then say with which rows.
-- Every script here is run again whenever a table or a script changed, so each must bear repetition.

revoke create on schema public from public;
grant usage on schema public to schooldrills_app, schooldrills_jobs;
grant select, insert, update, delete on all tables in schema public to schooldrills_app, schooldrills_jobs;
grant usage, select on all sequences in schema public to schooldrills_app, schooldrills_jobs;

-- Which migrations ran is the owner's business; how people sign in is not the jobs'.
revoke all on "__EFMigrationsHistory" from schooldrills_app, schooldrills_jobs;
revoke all on people, sessions, entry_links, api_tokens, sign_in_failures, first_run_tokens, data_protection_keys, column_mappings from schooldrills_jobs;
grant select (id, school_id, display_name, roles, active) on people to schooldrills_jobs;

create schema if not exists hangfire;
alter schema hangfire owner to schooldrills_hangfire;
