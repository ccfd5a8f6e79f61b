#!/usr/bin/env bash
# Runs the README's first command as it stands there: it must find notes in the
# earlier pass and none at warning level in the polished one.
set -euo pipefail
cd "$(dirname "$0")/.."
run=$(grep -m1 -oE '^go run \./cmd/curvelint check .*' README.md)
echo "$run"
status=0
out=$($run 2>/tmp/readme.$$) || status=$?
cat /tmp/readme.$$; rm -f /tmp/readme.$$
[ "$status" -eq 1 ] || { echo "expected exit status 1 (notes), got $status"; exit 1; }
grep -q 'deckhand_spline.usda:.*warning' <<<"$out" || { echo "no warning on the earlier pass"; exit 1; }
if grep -q 'deckhand_polish.usda:.*warning' <<<"$out"; then echo "a warning on the polished pass"; exit 1; fi
