#!/usr/bin/env bash
# What run.sh and the tests would install when they miss it, ahead of time.
set -euo pipefail
cd "$(dirname "$0")/.."
. deploy/system-packages.sh
postgres_folder > /dev/null || install_postgres
chromium_path > /dev/null || install_package chromium chromium chromium
command -v gpsbabel > /dev/null || install_package gpsbabel gpsbabel gpsbabel
dotnet tool restore
dotnet restore SchoolDrills.sln
