#!/usr/bin/env bash
# Compares the benchmarks of two revisions and lets benchstat decide:
#   .ci/compare.sh [-b PATTERN] [-n COUNT] [-p "PACKAGES"] OLD [NEW]
# NEW is the working tree when it is left out. Runs alternate between the two,
# since machines that are shared swing.
set -euo pipefail
cd "$(git -C "$(dirname "$0")" rev-parse --show-toplevel)"
pattern=. count=8 packages="./parse/... ./diagnostics/motion/..."
while getopts b:n:p: flag; do
  case $flag in
    b) pattern=$OPTARG ;;
    n) count=$OPTARG ;;
    p) packages=$OPTARG ;;
    *) sed -n 2,6p "$0"; exit 2 ;;
  esac
done
shift $((OPTIND - 1))
[ $# -ge 1 ] && [ $# -le 2 ] || { sed -n 2,6p "$0"; exit 2; }

dir=$(mktemp -d)
trees=()
clean() {
  for t in "${trees[@]:-}"; do [ -z "$t" ] || git worktree remove --force "$t"; done
  rm -rf "$dir"
}
trap clean EXIT

# tree NAME REVISION makes a worktree of the revision.
tree() {
  git worktree add --quiet --detach "$dir/$1" "$2"
  trees+=("$dir/$1")
}
tree old "$1"
old=$dir/old new=$PWD
if [ $# -eq 2 ]; then
  tree new "$2"
  new=$dir/new
fi

for round in $(seq "$count"); do
  for side in old new; do
    echo "round $round of $count: $side" >&2
    # A package that one of the two does not have is left out there.
    (cd "${!side}" && go test -run '^$' -bench "$pattern" -benchtime 300ms $packages 2>/dev/null) >>"$dir/$side.txt" || true
  done
done
grep -q ^Benchmark "$dir/old.txt" || { echo "no benchmark of $packages matches $pattern" >&2; exit 1; }
go run golang.org/x/perf/cmd/benchstat@v0.0.0-20260908200009-22c9c6c9d4da old="$dir/old.txt" new="$dir/new.txt"
