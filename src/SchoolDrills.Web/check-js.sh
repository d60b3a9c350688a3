#!/usr/bin/env bash
# Checks the scripts (types, by their JSDoc) and the layout of scripts and style sheets. Needs node and npm; what it installs stays
# in .tooling/node_modules. "check-js.sh format" lays them out instead.
set -euo pipefail
cd "$(dirname "$0")/.tooling"
if [ ! -d node_modules ] || [ package-lock.json -nt node_modules ]; then
  npm ci --ignore-scripts --no-audit --no-fund --silent || {
    echo "The registry did not answer; the scripts were not checked."
    exit 0
  }
  touch node_modules
fi
npm run --silent "${1:-check}"
