#!/usr/bin/env bash
# Removes what no recovery that begins with BASE or a later copy needs: older copies beside it, and archived log before it.
#   bash db/forget-before.sh BASE ARCHIVE
set -euo pipefail
usage="Say what to keep: bash db/forget-before.sh BASE ARCHIVE"
base=${1:?"$usage"} archive=${2:?"$usage"}
. "$(dirname "$0")/../deploy/system-packages.sh"
PATH="$(postgres_folder):$PATH"

[ -r "$base/base.tar.gz" ] || { echo "No copy of the server in $base: nothing was removed." >&2; exit 1; }
[ -d "$archive" ] || { echo "No archived log in $archive: nothing was removed." >&2; exit 1; }
first=$(tar --extract --gzip --to-stdout --file="$base/base.tar.gz" backup_label |
  sed -n 's/^START WAL LOCATION: .*(file \([0-9A-F]*\)).*/\1/p')
[ -n "$first" ] || { echo "$base does not say where it begins: nothing was removed." >&2; exit 1; }

kept=$(basename "$base")
for other in "$(dirname "$base")"/*Z; do
  if [ -f "$other/base.tar.gz" ] && [[ $(basename "$other") < $kept ]]; then
    rm -rf "$other"
    echo "Removed $other."
  fi
done
before=$(find "$archive" -maxdepth 1 -type f | wc -l)
pg_archivecleanup -x .gz "$archive" "$first"
echo "Removed $((before - $(find "$archive" -maxdepth 1 -type f | wc -l))) files of the log before $first."
