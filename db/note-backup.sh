# shellcheck shell=bash
# Sourced by backup.sh: leaves word in the database of a backup that succeeded, for the chief's page and the alerts.

# note_backup BYTES. A backup is no worse for not being noted: the database may be of an earlier version, or the role not the owner's.
note_backup() {
  psql --quiet --no-psqlrc --set=ON_ERROR_STOP=1 \
    --command="insert into setup.backups (ended_at_utc, bytes) values (now(), $(($1)))" > /dev/null 2>&1 ||
    echo "The backup is whole, but could not be noted in the database: the status page will not know of it." >&2
}
