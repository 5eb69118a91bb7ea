#!/usr/bin/env bash
# Speed and memory: a family of growing models beside z3's own command line, beside ABC and Spin, and the demo car. Prints
# tables, and at the end the aims and whether they are met.
#   bash tests/bench/run.sh [--only PART,PART] [--channels 1,2,4] [--leap-channels 1,2,4] [--timers 1,10,60]
#                           [--faults 9,20,40] [--limit SECONDS] [--row-limit SECONDS] [--repeats N]
# The parts are family, timer, lock-out, start, faults, leaps, keep, demo, needs and mutants; all of them take hours.
# For `leaps`: apt-get install --no-install-recommends berkeley-abc spin gcc libc6-dev. What is missing is left out.
# BUILD names another build than build/release.
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
build=${BUILD:-$root/build/release}
if [[ ! -x $build/lanyard || ! -x $build/tests/bench/bench_times ]]; then
    echo "$build is not built: build it first (cmake --preset release && cmake --build --preset release)" >&2
    exit 2
fi
exec python3 "$root/tests/bench/bench.py" "$build/lanyard" "$build/tests/bench/bench_times" "$@"
