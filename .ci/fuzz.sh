#!/usr/bin/env bash
# Runs every fuzz target of the module for an equal share of the given seconds
# (default 60), at least two each.
set -euo pipefail
cd "$(dirname "$0")/.."
total=${1:-60}
targets=()
while IFS=: read -r file line; do
  name=$(sed -E 's/^func (Fuzz[A-Za-z0-9_]*).*/\1/' <<<"$line")
  targets+=("./$(dirname "$file") $name")
done < <(git grep -E '^func Fuzz' -- '*_test.go')
[ ${#targets[@]} -gt 0 ] || { echo "no fuzz targets found"; exit 1; }
each=$((total / ${#targets[@]}))
[ $each -ge 2 ] || each=2
fuzz() { # package, target; the limit stops a target that hangs outside its own time
  timeout $((each + 180)) go test "$1" -run '^$' -fuzz "^$2\$" -fuzztime "${each}s" -fuzzminimizetime 1s >/tmp/fuzz.$$ 2>&1
}
for t in "${targets[@]}"; do
  read -r pkg name <<<"$t"
  echo "$pkg $name ${each}s"
  if ! fuzz "$pkg" "$name"; then
    # The go command sometimes takes the end of the time for a failure and says
    # nothing else (a known fault of it): once more then.
    # A finding is written down as an input, or says something of its own.
    cat /tmp/fuzz.$$
    if grep -q 'Failing input' /tmp/fuzz.$$ || ! grep -q '^    context deadline exceeded$' /tmp/fuzz.$$ || ! fuzz "$pkg" "$name"; then
      cat /tmp/fuzz.$$
      exit 1
    fi
  fi
  rm -f /tmp/fuzz.$$
done
echo "${#targets[@]} fuzz targets, nothing found"
