#!/usr/bin/env bash
# Puts a backup in the place of the present database, which is kept beside it:   bash db/restore.sh FILE
#
# The server is found as in backup.sh. The backup goes into an empty database first; only once it is complete do the two
# change names. Restart SchoolDrills afterwards, so that a backup of an earlier version is brought up to date.
set -euo pipefail
file=${1:?"Say from where: bash db/restore.sh FILE"}
. "$(dirname "$0")/connection.sh"

[ -r "$file" ] || { echo "No backup in $file." >&2; exit 1; }
restored=${PGDATABASE}_restored
former=${PGDATABASE}_before_$(date -u +%Y%m%d%H%M%S)
sql() { psql --dbname=postgres --quiet --no-psqlrc --set=ON_ERROR_STOP=1 --command="$1"; }

sql "drop database if exists \"$restored\""
sql "create database \"$restored\""
if ! pg_restore --exit-on-error --dbname="$restored" "$file"; then
  sql "drop database \"$restored\""
  echo "The backup could not be restored; the present database is untouched." >&2
  exit 1
fi

psql --dbname=postgres --quiet --no-psqlrc --set=ON_ERROR_STOP=1 > /dev/null << SQL
alter database "$PGDATABASE" allow_connections false;
select pg_terminate_backend(pid) from pg_stat_activity where datname = '$PGDATABASE';
select pg_sleep(0.5);
alter database "$PGDATABASE" rename to "$former";
alter database "$restored" rename to "$PGDATABASE";
alter database "$former" allow_connections true;
SQL
echo "Restored from $file. The former database is kept as $former. Restart SchoolDrills now."
