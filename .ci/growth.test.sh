#!/usr/bin/env bash
# Counts the statements that run for files of two sizes in every format: the
# work must grow no faster than the input.
set -euo pipefail
cd "$(dirname "$0")/.."
go run ./cmd/lab/bench -growth
