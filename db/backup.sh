#!/usr/bin/env bash
# Writes everything SchoolDrills keeps into one file, while it runs:   bash db/backup.sh FILE
#
# Beside it goes FILE.sha256, by which restore.sh knows a damaged copy. The private database is found by SCHOOLDRILLS_DATA;
# a server of your own by PGHOST, PGPORT, PGUSER, PGPASSWORD and PGDATABASE, with a role that sees every school (superuser or
# BYPASSRLS).
set -euo pipefail
file=${1:?"Say where to: bash db/backup.sh FILE"}
. "$(dirname "$0")/connection.sh"
. "$(dirname "$0")/note-backup.sh"

# A file of the final name is always whole: until then it has another, and what is left half-way goes.
umask 077
trap 'rm -f "$file.unfinished" "$file.sha256.unfinished"' EXIT
if ! pg_dump --format=custom --file="$file.unfinished" ||
  ! checksum "$file.unfinished" > "$file.sha256.unfinished" || ! sync "$file.sha256.unfinished"; then
  echo "Nothing was backed up to $file: put right what is said above, and back up again." >&2
  exit 1
fi
rm -f "$file.sha256"
mv "$file.unfinished" "$file"
mv "$file.sha256.unfinished" "$file.sha256"
note_backup "$(wc -c < "$file")"
echo "Backed up to $file ($(du -h "$file" | cut -f1))."
