#!/usr/bin/env bash
# All tests: format, the release build with all of its tests, the sanitizer build with the short half of them (ctest
# label `short`), lints. Nothing is ever left out, and the last line is exactly "N passed, N failed, N skipped".
# With --quick, as its last line says, only: format, the release build and the short half of its tests.
# Works from any folder; downloads nothing if everything is installed.
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.." || exit
# shellcheck source=.ci/install
source .ci/install

passed=0
failed=0
skipped=0
short_form=
case $* in
    '') ;;
    --quick) short_form=" (the short form: no sanitizers, no lints, no long tests)" ;;
    *)
        echo "usage: bash tests/run.sh [--quick]" >&2
        exit 2
        ;;
esac

# A test that was skipped has not passed, and where nothing ran, nothing has.
closing_line() {
    echo "$passed passed, $failed failed, $skipped skipped$short_form"
    ((failed == 0 && skipped == 0 && passed > 0))
}

step() { printf '\n== %s (%d s so far)\n' "$1" "$SECONDS"; }

# check NAME COMMAND...: one check of ours; its output is shown only if it fails.
check() {
    local name=$1 output
    shift
    if output=$("$@" 2>&1); then
        echo "passed: $name"
        passed=$((passed + 1))
    else
        tail -n 100 <<<"$output"
        echo "FAILED: $name"
        failed=$((failed + 1))
        return 1
    fi
}

# run_ctest PRESET [OPTION]...: adds ctest's counts to ours. A run of no test at all counts as a failure.
run_ctest() {
    local preset=$1 log=build/$1-ctest.log left disabled
    shift
    # The sanitizer's shadow memory does not go with every randomised layout of newer kernels.
    local fixed_layout=()
    if [[ $preset == asan ]] && setarch -R true 2>/dev/null; then fixed_layout=(setarch -R); fi
    "${fixed_layout[@]}" ctest --preset "$preset" -j "$(nproc)" "$@" 2>&1 | tee "$log"
    if [[ $(grep -E 'tests passed, [0-9]+ tests? failed out of [0-9]+' "$log") =~ ([0-9]+)\ tests?\ failed\ out\ of\ ([0-9]+) ]]; then
        left=$(grep -cE '^\s+[0-9]+ - \S+ \(Skipped\)$' "$log")
        disabled=$(grep -cE '^\s+[0-9]+ - \S+ \(Disabled\)$' "$log") # not counted by ctest
        failed=$((failed + BASH_REMATCH[1]))
        skipped=$((skipped + left + disabled))
        passed=$((passed + BASH_REMATCH[2] - BASH_REMATCH[1] - left))
    else
        echo "FAILED: $preset ran no test"
        failed=$((failed + 1))
    fi
}

# build_and_test PRESET WHAT [OPTION]...
build_and_test() {
    local preset=$1 what=$2
    shift 2
    step "$what build"
    check "$what configuration" cmake --preset "$preset" &&
        check "$what build" cmake --build --preset "$preset" -j "$(build_jobs)" &&
        step "$what tests" && run_ctest "$preset" "$@"
}

format_check() { find src include tests -name '*.[ch]pp' -print0 | xargs -0 clang-format-14 --dry-run -Werror; }

# All source files of the program, and the headers that are not the first thing that a source file of their name reads.
lint_files() {
    local header
    find src -name '*.cpp'
    find src include -name '*.hpp' | while read -r header; do
        grep -m 1 -s '^#include' "${header%.hpp}.cpp" | grep -q "[\"/]${header##*/}\"" || echo "$header"
    done
}

# Each file by itself, as the preset `debug` compiles it. The other builds read eight files as one, so that only here it
# is seen whether each includes what it uses.
lint_check() {
    cmake --preset debug >/dev/null || return
    lint_files | xargs -P "$(nproc)" -n 1 clang-tidy-14 -p build/debug "--extra-arg=-I$PWD/include" --quiet 2>/dev/null
}

mapfile -t packages <.ci/packages
if ! install_missing "${packages[@]}"; then
    failed=1
    closing_line
    exit 1
fi
mkdir -p build

step "format"
check "clang-format" format_check
if [[ $short_form ]]; then
    build_and_test release "release" --label-regex '^short$'
else
    build_and_test release "release"
    build_and_test asan "sanitizer"
    step "lints"
    check "clang-tidy" lint_check
fi

step "done"
closing_line
