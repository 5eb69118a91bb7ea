#!/usr/bin/env bash
# The benchmark: bash tests/bench/run.sh [--most N] [--repeat R]. Needs the release build and z3; prints one table.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
exec python3 tests/bench/measure.py build/release/lanyard "$@"
