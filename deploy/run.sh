#!/usr/bin/env bash
# Builds and serves SchoolDrills on this machine, on http://127.0.0.1:5080, with a private database and the demo school.
#
#   SCHOOLDRILLS_PORT   port to serve on (5080)
#   SCHOOLDRILLS_DATA   folder of the database (by default one of the user's, outside the source tree)
#   SCHOOLDRILLS_DEMO   1 seeds the demo school (the default on loopback), 0 starts empty
#   SCHOOLDRILLS_METRICS   where /metrics is served, apart from the app (http://127.0.0.1:5081), or off
#   ConnectionStrings__SchoolDrills   a PostgreSQL server of your own instead of the private one
#
# Arguments are passed on: --role web|worker|all, or new-school, which prints a link to set up one more school with.
set -euo pipefail
if [ -n "${SCHOOLDRILLS_DATA:-}" ]; then
  mkdir -p "$SCHOOLDRILLS_DATA"
  SCHOOLDRILLS_DATA=$(cd "$SCHOOLDRILLS_DATA" && pwd)
  export SCHOOLDRILLS_DATA
fi
cd "$(dirname "$0")/.."
. deploy/system-packages.sh

if ! command -v dotnet > /dev/null; then
  echo "The .NET 10 SDK is needed to build SchoolDrills: see https://dotnet.microsoft.com/download" >&2
  exit 1
fi
if [ -z "${ConnectionStrings__SchoolDrills:-}" ] && ! postgres_folder > /dev/null; then
  echo "Installing PostgreSQL..." >&2
  install_postgres >&2 || {
    echo "PostgreSQL could not be installed: install its server package," \
      "or set ConnectionStrings__SchoolDrills to a server of your own." >&2
    exit 1
  }
fi

echo "Building SchoolDrills..." >&2
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1
mkdir -p artifacts
if ! dotnet publish src/SchoolDrills.Web -c Release -o artifacts/host.new -v quiet > artifacts/publish.log 2>&1; then
  cat artifacts/publish.log >&2
  echo "The build failed; its messages are above." >&2
  exit 1
fi
# Swapped rather than overwritten: another SchoolDrills may be running from the former one.
rm -rf artifacts/host
mv artifacts/host.new artifacts/host

# The host replaces this shell, so that SIGTERM and Ctrl+C reach it: it drains, then stops its database.
cd artifacts/host
exec dotnet SchoolDrills.Web.dll "$@"
