#!/usr/bin/env bash
# Fails when a function is reached by nobody, tests included.
set -euo pipefail
cd "$(dirname "$0")/.."
deadcode() { go run golang.org/x/tools/cmd/deadcode@v0.52.0 "$@"; }

dead=$(deadcode -test ./...)
[ -z "$dead" ] || { echo "$dead"; echo "nothing reaches these; take them out"; exit 1; }
