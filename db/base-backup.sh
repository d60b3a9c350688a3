#!/usr/bin/env bash
# Copies the whole database server while it runs, as what a recovery to a point in time begins with:
#   bash db/base-backup.sh FOLDER      makes FOLDER/20261128T183000Z (the time it began)
#
# The server is found as in backup.sh; its role needs REPLICATION (the private server's owner has it).
set -euo pipefail
folder=${1:?"Say where to: bash db/base-backup.sh FOLDER"}
. "$(dirname "$0")/connection.sh"

base=$folder/$(date -u +%Y%m%dT%H%M%SZ)
umask 077
mkdir -p "$folder"
trap 'rm -rf "$base.unfinished"' EXIT
# With the log of its own minutes, so that it starts by itself; pg_basebackup puts it on the disk before it ends.
sql() { psql --dbname=postgres --no-psqlrc --tuples-only --no-align --command="$1"; }
if ! pg_basebackup --pgdata="$base.unfinished" --format=tar --gzip --wal-method=stream --checkpoint=fast --label=schooldrills ||
  ! sql "select clock_timestamp()" > "$base.unfinished/ended" || ! sync "$base.unfinished/ended"; then
  echo "Nothing was copied to $base: put right what is said above, and try again." >&2
  exit 1
fi
mv "$base.unfinished" "$base"
if [ "$(sql "show archive_mode")" = off ]; then
  echo "The log is not archived (SCHOOLDRILLS_WAL_ARCHIVE): this copy recovers to the moment it was made and no later." >&2
fi
echo "Copied to $base ($(du -sh "$base" | cut -f1))."
