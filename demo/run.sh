#!/usr/bin/env bash
# Builds lanyard and lets it judge the demo car and its repaired twin. Ends with 0 when every verdict is the expected
# one. Works from any folder; downloads nothing if everything is installed.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
# shellcheck source=.ci/install
source .ci/install

mapfile -t packages < <(sed '/^catch2$/,$d' .ci/packages)
install_missing "${packages[@]}"

echo "Building lanyard in build/release (a few minutes the first time) ..."
mkdir -p build
log=build/demo-build.log
if ! { cmake --preset release -DBUILD_TESTING=OFF && cmake --build --preset release --target lanyard -j "$(build_jobs)"; } >"$log" 2>&1; then
    tail -n 40 "$log"
    echo "The build failed; all of its output is in $log."
    exit 1
fi

lanyard=build/release/lanyard
results=$(mktemp -d)
trap 'rm -rf "$results"' EXIT
wrong=0

# judge NAME EXIT: check demo/NAME.json, show the output, compare every verdict with demo/NAME.expect.json.
judge() {
    local name=$1 expected=$2 code=0
    printf '\n$ lanyard check demo/%s.json\n' "$name"
    "$lanyard" check "demo/$name.json" --json "$results/$name.json" || code=$?
    echo "exit code $code"
    if ((code != expected)); then
        echo "UNEXPECTED: exit code $expected was expected"
        wrong=1
    fi
    python3 demo/compare.py "$results/$name.json" "demo/$name.expect.json" || wrong=1
}

judge car 10
judge car-repaired 0

echo
if ((wrong)); then
    echo "Something is not as expected: see UNEXPECTED above."
    exit 1
fi
cat <<'TEXT'
Every verdict is as expected: the car as delivered has traps in it, its repaired twin has none of them.

Where to look next:
  diff demo/car.json demo/car-repaired.json                 what the repair changed
  build/release/lanyard help verdicts                       what each verdict promises
  build/release/lanyard check demo/car.json --evidence out  what stands behind them: see out/README.txt
  build/release/lanyard help meaning                        what a model means, to write your own
  SAFETY.md                                                 before you act on any of it
TEXT
