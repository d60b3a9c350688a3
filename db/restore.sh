#!/usr/bin/env bash
# Puts a backup in the place of the present database, which is kept beside it:   bash db/restore.sh FILE
#
# The server is found as in backup.sh. The backup goes into an empty database first; only once it is complete do the two
# change names. Restart SchoolDrills afterwards, so that a backup of an earlier version is brought up to date.
set -euo pipefail
file=${1:?"Say from where: bash db/restore.sh FILE"}
. "$(dirname "$0")/connection.sh"

refuse() {
  echo "$1; the present database is untouched." >&2
  exit 1
}
sql() { psql --dbname=postgres --quiet --no-psqlrc --set=ON_ERROR_STOP=1 --tuples-only --no-align --command="$1"; }

[ -r "$file" ] || refuse "No backup in $file"
if [ -r "$file.sha256" ]; then
  [ "$(checksum "$file")" = "$(cat "$file.sha256")" ] || refuse "$file is not what was backed up (its SHA-256 is not that of $file.sha256)"
else
  echo "There is no $file.sha256 to check it by." >&2
fi
pg_restore --list "$file" > /dev/null 2>&1 || refuse "$file is no backup, or a damaged one"

# A name of its own: two who restore at once do not meet before one of them is complete.
now=$(date -u +%Y%m%d%H%M%S)
restored=${PGDATABASE}_restored_${now}_$$
former=${PGDATABASE}_before_$now

# Left of a restore that was killed.
sql "select datname from pg_database d where datname ~ '^${PGDATABASE}_restored_[0-9]+_[0-9]+\$'
  and not exists (select from pg_stat_activity a where a.datname = d.datname)" | while read -r left; do
  sql "drop database if exists \"$left\"" < /dev/null
done

give_up() {
  trap - EXIT
  sql "drop database if exists \"$restored\" with (force)" || true
  sql "alter database \"$PGDATABASE\" allow_connections true" || true
}
trap give_up EXIT
trap 'exit 130' INT
trap 'exit 143' TERM

sql "create database \"$restored\""
pg_restore --exit-on-error --dbname="$restored" "$file" || refuse "The backup could not be restored"

psql --dbname=postgres --quiet --no-psqlrc --set=ON_ERROR_STOP=1 > /dev/null << SQL || refuse "The two could not change names"
alter database "$PGDATABASE" allow_connections false;
select pg_terminate_backend(pid) from pg_stat_activity where datname = '$PGDATABASE';
select pg_sleep(0.5);
begin;
alter database "$PGDATABASE" rename to "$former";
alter database "$restored" rename to "$PGDATABASE";
commit;
SQL
trap - EXIT
sql "alter database \"$former\" allow_connections true"
echo "Restored from $file. The former database is kept as $former. Restart SchoolDrills now."
