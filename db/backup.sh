#!/usr/bin/env bash
# Writes everything SchoolDrills keeps into one file, while it runs:   bash db/backup.sh FILE
#
# The private database is found by SCHOOLDRILLS_DATA; a server of your own by PGHOST, PGPORT, PGUSER, PGPASSWORD and
# PGDATABASE, with a role that sees every school (superuser or BYPASSRLS).
set -euo pipefail
file=${1:?"Say where to: bash db/backup.sh FILE"}
. "$(dirname "$0")/connection.sh"

umask 077
pg_dump --format=custom --file="$file.unfinished"
mv "$file.unfinished" "$file"
echo "Backed up to $file ($(du -h "$file" | cut -f1))."
