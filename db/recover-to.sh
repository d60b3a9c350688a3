#!/usr/bin/env bash
# Brings the database back as it was at a point in time, in a fresh folder; what is there now is not touched.
#   bash db/recover-to.sh [--cluster] BASE ARCHIVE TIME TARGET
#
#   BASE      folder that base-backup.sh made, of before TIME
#   ARCHIVE   folder of the archived log (SCHOOLDRILLS_WAL_ARCHIVE); it is only read
#   TIME      as "2026-11-28 18:30:00+13", with its zone, or latest: as far as the log goes
#   TARGET    folder that is empty or not there yet: the data folder to start SchoolDrills on (SCHOOLDRILLS_DATA)
#
# With --cluster, TARGET is the server's own folder (PGDATA), and its passwords stay; without, the owner gets a new one.
set -euo pipefail
usage="Say from what, to when and where: bash db/recover-to.sh BASE ARCHIVE TIME TARGET"
cluster_only=""
if [ "${1:-}" = --cluster ]; then
  cluster_only=1
  shift
fi
base=${1:?"$usage"} archive=${2:?"$usage"} time=${3:?"$usage"} target=${4:?"$usage"}
. "$(dirname "$0")/../deploy/system-packages.sh"

stop() {
  echo "$1" >&2
  exit 1
}
if [ ! -r "$base/base.tar.gz" ] || [ ! -r "$base/backup_manifest" ] || [ ! -r "$base/ended" ]; then
  stop "No copy of the server in $base: name a folder that base-backup.sh made."
fi
[ -d "$archive" ] || stop "No archived log in $archive."
[ -z "$(ls -A "$target" 2> /dev/null)" ] || stop "$target is not empty: name a folder that is, or is not there yet."
with_zone='^[0-9]{4}-[0-9]{2}-[0-9]{2}[ T][0-9]{2}:[0-9]{2}(:[0-9]{2}([.][0-9]+)?)?(Z| ?[+-][0-9]{2}(:?[0-9]{2})?)$'
if [ "$time" != latest ] && ! [[ $time =~ $with_zone ]]; then
  stop "Give the time with its zone, as \"2026-11-28 18:30:00+13\", or latest; '$time' is not of that form."
fi
archive=$(cd "$archive" && pwd)
[[ $archive != *[\'\"\\%\$\`]* ]] || stop "$archive has a quote, %, \$ or \\ in its name: move it."
damaged="$base is damaged: take another copy."
version=$(tar --extract --gzip --to-stdout --file="$base/base.tar.gz" PG_VERSION 2> /dev/null) || stop "$damaged"
programs=$(postgres_folder)
if [ -x "/usr/lib/postgresql/$version/bin/postgres" ]; then programs=/usr/lib/postgresql/$version/bin; fi
[[ $("$programs/postgres" --version) == *" $version."* ]] || stop "This copy is of PostgreSQL $version, which is not installed here."

# PostgreSQL does not serve as root.
as_server() {
  if [ "$(id -u)" = 0 ]; then (cd / && setpriv --reuid=postgres --regid=postgres --init-groups -- "$@"); else "$@"; fi
}

umask 077
made=""
if [ ! -d "$target" ]; then
  (umask 022 && mkdir -p "$target")
  made=1
fi
target=$(cd "$target" && pwd)
if [ -n "$cluster_only" ]; then cluster=$target; else cluster=$target/postgres/cluster; fi
work=$(mktemp -d)
finish() {
  local status=$?
  if [ -e "$cluster/postmaster.pid" ]; then as_server "$programs/pg_ctl" -D "$cluster" -m immediate stop > /dev/null 2>&1 || true; fi
  rm -rf "$work"
  if [ $status != 0 ]; then
    find "$target" -mindepth 1 -delete
    if [ -n "$made" ]; then rmdir "$target"; fi
  fi
}
trap finish EXIT
trap 'exit 130' INT
trap 'exit 143' TERM

mkdir -p "$cluster"
chmod 700 "$cluster"
tar --extract --gzip --file="$base/base.tar.gz" --directory="$cluster" || stop "$damaged"
tar --extract --gzip --file="$base/pg_wal.tar.gz" --directory="$cluster/pg_wal" || stop "$damaged"
cp "$base/backup_manifest" "$cluster/backup_manifest"
"$programs/pg_verifybackup" --quiet "$cluster" || stop "$damaged"

# For the recovery alone; taken out again when it is done. A piece that is damaged ends it (255); one that is not there is
# the end of the log. Archives of before may have pieces that are not compressed.
cp "$cluster/postgresql.auto.conf" "$work/auto.conf"
cat >> "$cluster/postgresql.auto.conf" << SETTINGS
restore_command = 'if [ -e "$archive/%f.gz" ]; then gunzip -c "$archive/%f.gz" > "%p" || exit 255; else cp "$archive/%f" "%p"; fi'
recovery_target_action = 'promote'
hot_standby = off
lc_messages = 'C'
archive_mode = off
listen_addresses = ''
unix_socket_directories = '$work'
unix_socket_permissions = 0700
hba_file = '$work/hba.conf'
SETTINGS
if [ "$time" != latest ]; then echo "recovery_target_time = '$time'" >> "$cluster/postgresql.auto.conf"; fi
touch "$cluster/recovery.signal" "$work/log"
# Reached through a socket that this user alone can open.
echo "local all all trust" > "$work/hba.conf"
if [ "$(id -u)" = 0 ]; then
  chown -R postgres: "$cluster" "$work"
  if [ -z "$cluster_only" ]; then chown postgres: "$target/postgres"; fi
fi

said() { grep -hoE "(FATAL|PANIC):.*" "$work/log" | grep -v "the database system is" | head -n 1 | sed 's/^[A-Z]*: *//' || true; }
failed() {
  local reason
  reason=$(said)
  case $reason in
    *"before configured recovery target was reached"*)
      stop "The archived log ends before $time: stop SchoolDrills, which archives what is left, and try again, or give latest." ;;
    *postgresql.auto.conf*"contains errors"*) stop "There is no such time as $time." ;;
    *) stop "The recovery failed: ${reason:-PostgreSQL did not start}." ;;
  esac
}

echo "Recovering to $time..." >&2
as_server "$programs/pg_ctl" -D "$cluster" -l "$work/log" -w -t 86400 start > /dev/null 2>&1 || failed
until as_server "$programs/pg_isready" --host="$work" --quiet; do
  as_server "$programs/pg_ctl" -D "$cluster" status > /dev/null || failed
  sleep 0.2
done
reached=$(grep -hoE "last completed transaction was at log time .*" "$work/log" | tail -n 1 | sed 's/.*log time //' || true)
sql() { as_server "$programs/psql" --host="$work" --username="$role" --dbname=postgres --quiet --no-psqlrc -tA --command="$1"; }
role=${PGUSER:-schooldrills_owner}
# PostgreSQL would give the state at the copy's end and say nothing.
if [ "$time" != latest ] && [ "$(sql "select timestamptz '$time' < timestamptz '$(cat "$base/ended")'")" = t ]; then
  stop "$base was made after $time: begin with an earlier copy."
fi
if [ -z "$cluster_only" ]; then
  # The former one stood beside the cluster that is lost.
  head -c 24 /dev/urandom | od -An -tx1 | tr -d ' \n' > "$target/postgres.password"
  sql "alter role $role password '$(cat "$target/postgres.password")'"
fi
as_server "$programs/pg_ctl" -D "$cluster" -m fast -w -t 600 stop > /dev/null
cat "$work/auto.conf" > "$cluster/postgresql.auto.conf"
rm -f "$cluster/backup_manifest"
sync
echo "Recovered to $time in $target${reached:+; the last change in it is of $reached}."
echo "Give it an archive folder of its own, and copy it with base-backup.sh once it runs."
