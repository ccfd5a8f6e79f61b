#!/usr/bin/env bash
# Fails when a function is reached by nobody, or by tests alone without being one
# of those below, which are for tests.
set -euo pipefail
cd "$(dirname "$0")/.."
deadcode() { go run golang.org/x/tools/cmd/deadcode@v0.52.0 "$@"; }

dead=$(deadcode -test ./...)
[ -z "$dead" ] || { echo "$dead"; echo "nothing reaches these; take them out"; exit 1; }

# For tests: faults end them instead of becoming notes; edits are made as an editor
# makes them; keys of the configuration are held against its document; a page is
# written whole.
for_tests='PanicOnBugs|Apply|Keys|Write'
alone=$(deadcode ./cmd/... | grep -v '^cmd/lab/' | grep -vE "unreachable func: ($for_tests)\$" || true)
[ -z "$alone" ] || { echo "$alone"; echo "only tests reach these; take them out, or move them into the tests"; exit 1; }
