-- What an operator's scripts leave word of, and what may be known of the whole installation: numbers and times alone.

-- A row for each backup that succeeded, written by db/backup.sh. It is not a school's, so that no row-level security applies; the roles
-- that serve do not see it.
create table if not exists setup.backups (ended_at_utc timestamptz primary key, bytes bigint not null);

grant usage on schema setup to schooldrills_lookup;
grant select on setup.backups to schooldrills_lookup;
grant select on "__EFMigrationsHistory" to schooldrills_lookup;

set local role schooldrills_lookup;

-- Status: how much waits and for how long, which version has the database, and when was it last backed up?
create function lookup.installation()
  returns table (waiting integer, oldest_since_utc timestamptz, schema_version text, backup_at_utc timestamptz, backup_bytes bigint)
  language sql volatile security definer set search_path = pg_catalog, pg_temp as $$
  select q.waiting, q.since, (select max(m."MigrationId")::text from public."__EFMigrationsHistory" m), b.ended_at_utc, b.bytes
  from (select count(*)::integer as waiting, min(w.since) as since from lookup.waiting_attempts() w) q
  left join lateral (select x.ended_at_utc, x.bytes from setup.backups x order by x.ended_at_utc desc limit 1) b on true
$$;

revoke execute on function lookup.installation() from public;
grant execute on function lookup.installation() to schooldrills_app;

reset role;
