#!/usr/bin/env bash
# Checks the rules, their tests and the example with promtool:   bash deploy/watching/check.sh
set -euo pipefail
cd "$(dirname "$0")"

python3 -m json.tool dashboard.json > /dev/null 2>&1 || ! command -v python3 > /dev/null || {
  echo "dashboard.json is not JSON." >&2
  exit 1
}
if ! command -v promtool > /dev/null; then
  echo "Alerts and scrape example: not checked, since promtool (package prometheus) is not here."
  exit 0
fi
promtool check rules alerts.yml
promtool check config prometheus.yml
promtool test rules alerts.test.yml
