#!/usr/bin/env bash
# Speed and memory on a family of growing models, beside z3's own command line. Prints a table.
#   bash tests/bench/run.sh [--channels 1,2,4] [--faults 9,20,40] [--limit SECONDS] [--repeats N]
# BUILD names another build than build/release.
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
build=${BUILD:-$root/build/release}
if [[ ! -x $build/lanyard || ! -x $build/tests/bench/bench_times ]]; then
    echo "$build is not built: build it first (cmake --preset release && cmake --build --preset release)" >&2
    exit 2
fi
exec python3 "$root/tests/bench/bench.py" "$build/lanyard" "$build/tests/bench/bench_times" "$@"
