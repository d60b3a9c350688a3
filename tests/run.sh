#!/usr/bin/env bash
# Every check of the project: warnings-as-errors build, format, all tests against a real PostgreSQL and a real browser.
# The last line is "N passed, N failed" (a wrong format counts as one failure); the exit code is 0 only if something ran
# and nothing failed.
#
#   SCHOOLDRILLS_TEST_DB   connection string of a PostgreSQL server to use (its role may create databases and roles);
#                          otherwise a throw-away server from the installed programs, else a container
set -uo pipefail
cd "$(dirname "$0")/.."
. deploy/system-packages.sh
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1

stop() {
  echo "$1" >&2
  echo "0 passed, 1 failed"
  exit 1
}

command -v dotnet > /dev/null || stop "The .NET 10 SDK is missing: see https://dotnet.microsoft.com/download"
if [ -z "${SCHOOLDRILLS_TEST_DB:-}" ] && ! postgres_folder > /dev/null; then
  install_postgres || echo "PostgreSQL is missing and could not be installed; the tests will look for a container engine."
fi
chromium_path > /dev/null || install_package chromium chromium chromium || echo "Chromium is missing and could not be installed; the browser tests will fail."
command -v gpsbabel > /dev/null || install_package gpsbabel gpsbabel gpsbabel || echo "GPSBabel is missing and could not be installed; the tests that compare with it will be skipped."

step() {
  echo "== $1"
  shift
  "$@" || stop "Failed: $*"
}

# Locked as soon as every project has its lock file, so that a build uses what was tested.
locked=()
if [ "$(find src tests -name '*.csproj' | wc -l)" = "$(find src tests -name packages.lock.json | wc -l)" ]; then locked=(--locked-mode); fi
step "restore" dotnet restore SchoolDrills.sln "${locked[@]}" -v quiet
step "build" dotnet build SchoolDrills.sln --no-restore -c Release -v quiet

passed=0 failed=0 skipped=0
# Style and analyzers are the build's, which takes no warnings; what it does not see is layout.
echo "== format"
dotnet tool restore > /dev/null && dotnet csharpier check . || failed=1

# Asked of the registry where it answers; without it the checks go on.
echo "== known vulnerabilities of packages"
if audit=$(timeout 60 dotnet list SchoolDrills.sln package --vulnerable --include-transitive --no-restore 2>&1); then
  if grep -q "has the following vulnerable packages" <<< "$audit"; then
    echo "$audit"
    failed=$((failed + 1))
  fi
else
  echo "The registry did not answer; packages were not looked up."
fi

results=$(mktemp -d)
trap 'rm -rf "$results"' EXIT

# count ATTRIBUTE FILE: a number from the <assembly> element of xunit's result file, 0 where there is none.
count() {
  local number
  number=$(sed -n "s/.*<assembly [^>]* $1=\"\([0-9]*\)\".*/\1/p" "$2" 2> /dev/null | head -n 1)
  echo "${number:-0}"
}

for project in tests/*.Tests/*.csproj; do
  name=$(basename "$project" .csproj)
  echo "== $name"
  dotnet "tests/$name/bin/Release/net10.0/$name.dll" -noLogo -noColor -result-xml "$results/$name.xml"
  code=$?
  failures=$(($(count failed "$results/$name.xml") + $(count errors "$results/$name.xml")))
  # A run that broke off has no failed test to show for it.
  if [ "$code" != 0 ] && [ "$failures" = 0 ]; then failures=1; fi
  passed=$((passed + $(count passed "$results/$name.xml")))
  failed=$((failed + failures))
  skipped=$((skipped + $(count skipped "$results/$name.xml")))
done

# Said again at the end, where it is not lost among what the tests print.
for result in "$results"/*.xml; do
  grep -aozP '(?s)<test [^<]*result="Fail"[^<]*>.*?</stack-trace>' "$result" | tr '\0' '\n'
done

summary="$passed passed, $failed failed"
if [ "$skipped" != 0 ]; then summary="$summary, $skipped skipped"; fi
echo "$summary"
[ "$failed" = 0 ] && [ "$passed" != 0 ]
