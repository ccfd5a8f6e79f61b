#!/usr/bin/env bash
# Builds the program for the other systems that people have.
set -euo pipefail
cd "$(dirname "$0")/.."
for target in windows/amd64 darwin/arm64 linux/arm64; do
  echo "$target"
  CGO_ENABLED=0 GOOS=${target%/*} GOARCH=${target#*/} go build -o /dev/null ./cmd/curvelint
done
