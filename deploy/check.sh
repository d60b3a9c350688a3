#!/usr/bin/env bash
# Checks what is deployed without deploying it, with each checker that is here:   bash deploy/check.sh
set -uo pipefail
cd "$(dirname "$0")/.."
failed=0
said=$(mktemp)
trap 'rm -f "$said"' EXIT

# check WHAT PROGRAM COMMAND…
check() {
  local what=$1 program=$2
  shift 2
  if ! command -v "$program" > /dev/null; then
    echo "$what: not checked, since $program is not here."
  elif "$@" > "$said" 2>&1; then
    echo "$what: in order."
  else
    echo "$what:"
    sed 's/^/  /' "$said"
    failed=1
  fi
}

compose() {
  if docker compose version > /dev/null 2>&1; then docker compose "$@"; else docker-compose "$@"; fi
}
composer=docker-compose
command -v docker > /dev/null && composer=docker

check "YAML" yamllint yamllint -d '{extends: relaxed, rules: {line-length: {max: 180}}}' docker-compose.yml deploy
check "docker-compose.yml" "$composer" compose --env-file deploy/.env.example -f docker-compose.yml config -q
check "several-hosts/compose.yml" "$composer" \
  compose --env-file deploy/several-hosts/.env.example -f deploy/several-hosts/compose.yml config -q
check "several-hosts/Caddyfile" caddy \
  env SCHOOLDRILLS_SITE=drills.example caddy validate --adapter caddyfile --config deploy/several-hosts/Caddyfile
check "kubernetes" dotnet dotnet run deploy/check.cs -- deploy/kubernetes/{namespace,web,worker,ingress}.yaml
check "watching" bash bash deploy/watching/check.sh
exit $failed
