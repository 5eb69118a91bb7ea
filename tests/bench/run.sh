#!/usr/bin/env bash
# Speed and memory on a family of growing models, beside z3's own command line. Prints a table.
#   bash tests/bench/run.sh [--channels 1,2,4] [--faults 9,20,40] [--limit SECONDS] [--repeats N]
# LANYARD names another program than the one of the release build.
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
lanyard=${LANYARD:-$root/build/release/lanyard}
if [[ ! -x $lanyard ]]; then
    echo "no program at $lanyard: build it first (cmake --preset release && cmake --build --preset release)" >&2
    exit 2
fi
exec python3 "$root/tests/bench/bench.py" "$lanyard" "$@"
