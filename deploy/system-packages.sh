# shellcheck shell=bash
# Sourced by the scripts that need PostgreSQL, Chromium or GPSBabel: finds them, or installs them with what this machine offers.

# Folder of PostgreSQL's own programs (initdb, pg_ctl, pg_dump), the newest version last seen wins.
postgres_folder() {
  local folder found=""
  for folder in ${PATH//:/ } /usr/pgsql-*/bin /opt/homebrew/opt/postgresql*/bin /usr/local/opt/postgresql*/bin /usr/lib/postgresql/*/bin; do
    if [ -x "$folder/initdb" ] && [ -x "$folder/pg_ctl" ] && [ -x "$folder/postgres" ]; then found=$folder; fi
  done
  [ -n "$found" ] && echo "$found"
}

chromium_path() {
  command -v chromium || command -v chromium-browser || command -v google-chrome
}

as_root() {
  if [ "$(id -u)" = 0 ]; then
    "$@"
  elif command -v sudo > /dev/null; then
    sudo "$@"
  else
    return 1
  fi
}

# install_package APT_NAME DNF_NAME BREW_NAME
install_package() {
  if command -v apt-get > /dev/null; then
    as_root apt-get update -q && as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends "$1"
  elif command -v dnf > /dev/null; then
    as_root dnf install -y -q "$2"
  elif command -v brew > /dev/null; then
    brew install --quiet "$3"
  else
    return 1
  fi
}

# Debian's package would also make and start a server of its own, which SchoolDrills has no use for.
install_postgres() {
  local quiet=/etc/postgresql-common/createcluster.d/schooldrills.conf status=0
  if command -v apt-get > /dev/null; then
    as_root mkdir -p "${quiet%/*}" && echo "create_main_cluster = false" | as_root tee "$quiet" > /dev/null
  fi
  install_package postgresql postgresql-server postgresql@17 || status=$?
  if [ -e "$quiet" ]; then as_root rm -f "$quiet"; fi
  return "$status"
}
