#!/usr/bin/env bash
# Every check of the project: warnings-as-errors build, layout, scripts, all tests against a real PostgreSQL and a real browser.
# The last line is "N passed, N failed" (a failed check counts as one failure); the exit code is 0 only if something ran and nothing
# failed.
#
#   bash tests/run.sh                     everything
#   bash tests/run.sh engine              one part, or several: engine api web browser
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

declare -A projects=([engine]=Engine [api]=Api [web]=Web [browser]=Browser)
parts=("$@")
if [ ${#parts[@]} = 0 ]; then parts=(engine api web browser); fi
for part in "${parts[@]}"; do
  [ -n "${projects[$part]:-}" ] || stop "There is no part $part: give some of engine api web browser, or none for all."
done
wants() { [[ " ${parts[*]} " == *" $1 "* ]]; }

command -v dotnet > /dev/null || stop "The .NET 10 SDK is missing: see https://dotnet.microsoft.com/download"
if { wants api || wants browser; } && [ -z "${SCHOOLDRILLS_TEST_DB:-}" ] && ! postgres_folder > /dev/null; then
  install_postgres || echo "PostgreSQL is missing and could not be installed; the tests will look for a container engine."
fi
if wants browser && ! chromium_path > /dev/null; then
  install_package chromium chromium chromium || echo "Chromium is missing and could not be installed; the browser tests will fail."
fi
if wants engine && ! command -v gpsbabel > /dev/null; then
  install_package gpsbabel gpsbabel gpsbabel ||
    echo "GPSBabel is missing and could not be installed; the tests that compare with it will be skipped."
fi

results=$(mktemp -d)
trap 'rm -rf "$results"' EXIT
passed=0 failed=0 skipped=0

step() {
  echo "== $1"
  shift
  "$@" || stop "Failed: $*"
}

check() {
  echo "== $1"
  shift
  "$@" || { echo "Failed: $*"; failed=$((failed + 1)); }
}

# Locked as soon as every project has its lock file, so that a build uses what was tested.
locked=()
lock_files=$(find src tests -name packages.lock.json | wc -l)
if [ "$(find src tests -name '*.csproj' | wc -l)" = "$lock_files" ]; then locked=(--locked-mode); fi
if [ $# = 0 ]; then
  step "restore" dotnet restore SchoolDrills.sln "${locked[@]}" -v quiet
  step "build" dotnet build SchoolDrills.sln --no-restore -c Release -v quiet
else
  for part in "${parts[@]}"; do
    step "build $part" dotnet build "tests/SchoolDrills.${projects[$part]}.Tests" -c Release -v quiet
  done
fi

# Style and analyzers are the build's, which takes no warnings; what it does not see is layout.
layout() { dotnet tool restore > /dev/null && dotnet csharpier check .; }
check "layout" layout

scripts() {
  if command -v npm > /dev/null; then
    bash src/SchoolDrills.Web/check-js.sh
  else
    echo "There is no Node.js here; the scripts' types and layout were not checked."
  fi
}
if wants web; then check "scripts" scripts; fi

# Asked of the registry where it answers; without it the checks go on.
vulnerabilities() {
  local audit
  if audit=$(timeout 60 dotnet list SchoolDrills.sln package --vulnerable --include-transitive --no-restore 2>&1); then
    if grep -q "has the following vulnerable packages" <<< "$audit"; then
      echo "$audit"
      return 1
    fi
  else
    echo "The registry did not answer; packages were not looked up."
  fi
}
if [ $# = 0 ]; then check "known vulnerabilities of packages" vulnerabilities; fi

# count ATTRIBUTE FILE: a number from the <assembly> element of xunit's result file, 0 where there is none.
count() {
  local number
  number=$(sed -n "s/.*<assembly [^>]* $1=\"\([0-9]*\)\".*/\1/p" "$2" 2> /dev/null | head -n 1)
  echo "${number:-0}"
}

run() {
  local name="SchoolDrills.${projects[$1]}.Tests"
  dotnet "tests/$name/bin/Release/net10.0/$name.dll" -noLogo -noColor -result-xml "$results/$name.xml"
  echo $? > "$results/$name.code"
}

# The browser waits more than it works: it runs beside the other parts, and is printed when they are done.
if wants browser; then
  run browser > "$results/browser.txt" 2>&1 &
fi
for part in engine api web; do
  if wants $part; then
    echo "== $part"
    run $part
  fi
done
wait
if wants browser; then
  echo "== browser"
  cat "$results/browser.txt"
fi

for part in "${parts[@]}"; do
  name="SchoolDrills.${projects[$part]}.Tests"
  failures=$(($(count failed "$results/$name.xml") + $(count errors "$results/$name.xml")))
  # A run that broke off has no failed test to show for it.
  if [ "$(cat "$results/$name.code" 2> /dev/null || echo 1)" != 0 ] && [ "$failures" = 0 ]; then failures=1; fi
  passed=$((passed + $(count passed "$results/$name.xml")))
  failed=$((failed + failures))
  skipped=$((skipped + $(count skipped "$results/$name.xml")))
done

# Again at the end, where it is not lost among what the tests print.
for result in "$results"/*.xml; do
  grep -aozP '(?s)<test [^<]*result="Fail"[^<]*>.*?</stack-trace>' "$result" | tr '\0' '\n'
done

summary="$passed passed, $failed failed"
if [ "$skipped" != 0 ]; then summary="$summary, $skipped skipped"; fi
echo "$summary"
[ "$failed" = 0 ] && [ "$passed" != 0 ]
