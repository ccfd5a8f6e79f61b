#!/usr/bin/env bash
# Simulated editing of twenty texts in one server for two minutes, for thirty
# with CURVELINT_NIGHTLY=1: its memory and goroutines must not grow.
set -euo pipefail
cd "$(dirname "$0")/.."
length=2m
[ -z "${CURVELINT_NIGHTLY:-}" ] || length=30m
go run ./cmd/lab/bench -soak "${CURVELINT_SOAK:-$length}"
