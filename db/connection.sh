# shellcheck shell=bash
# Sourced by backup.sh and restore.sh: PG* variables of the private database, unless they name another server already.

. "$(dirname "${BASH_SOURCE[0]}")/../deploy/system-packages.sh"
PATH="$(postgres_folder):$PATH"

if [ -z "${PGHOST:-}" ]; then
  if [ -z "${SCHOOLDRILLS_DATA:-}" ]; then
    if [ "$(id -u)" = 0 ]; then
      SCHOOLDRILLS_DATA=/var/lib/schooldrills
    else
      SCHOOLDRILLS_DATA=${XDG_DATA_HOME:-$HOME/.local/share}/schooldrills
    fi
  fi
  postmaster=$SCHOOLDRILLS_DATA/postgres/cluster/postmaster.pid
  if [ ! -r "$postmaster" ]; then
    echo "No database runs in $SCHOOLDRILLS_DATA: start SchoolDrills first (bash deploy/run.sh)," \
      "or set PGHOST, PGUSER, PGPASSWORD and PGDATABASE." >&2
    exit 1
  fi
  PGHOST=127.0.0.1
  PGPORT=$(sed -n 4p "$postmaster")
  PGUSER=schooldrills_owner
  PGPASSWORD=$(cat "$SCHOOLDRILLS_DATA/postgres.password")
  PGDATABASE=schooldrills
  export PGPORT PGUSER PGPASSWORD
fi
PGDATABASE=${PGDATABASE:-schooldrills}
PGOPTIONS="-c client_min_messages=warning"
export PGHOST PGDATABASE PGOPTIONS

checksum() {
  { sha256sum "$1" 2> /dev/null || shasum -a 256 "$1"; } | cut -d' ' -f1
}
