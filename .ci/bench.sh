#!/usr/bin/env bash
# Measures speed and size beside what they are held against and prints the
# tables as Markdown; flags as of cmd/lab/bench, e.g. -quick or -only parse,editor.
# -o testdata/speed/RESULTS.md writes them where they are kept.
set -euo pipefail
cd "$(dirname "$0")/.."
if command -v npm >/dev/null; then
  for folder in testdata/reference testdata/speed; do
    (cd $folder && npm ci --silent --no-audit --no-fund --ignore-scripts >&2)
  done
else
  echo "without Node and npm the baselines that need them are left out" >&2
fi
exec go run ./cmd/lab/bench "$@"
