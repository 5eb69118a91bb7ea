#!/usr/bin/env bash
# All tests: the release build with everything, the sanitizer build with the short half (ctest label `short`), format
# and lints. The last line says how many passed. Works from any folder; downloads nothing if everything is installed.
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.." || exit
# shellcheck source=.ci/install
source .ci/install

passed=0
failed=0
begin=$SECONDS

closing_line() {
    echo "$passed passed, $failed failed"
    ((failed == 0 && passed > 0))
}

step() { printf '\n== %s (%d s so far)\n' "$1" $((SECONDS - begin)); }

# check NAME COMMAND...: one check of ours; its output is shown only if it fails.
check() {
    local name=$1 output
    shift
    if output=$("$@" 2>&1); then
        if [[ $output == left\ out* ]]; then echo "$output"; fi
        echo "passed: $name"
        passed=$((passed + 1))
    else
        tail -n 100 <<<"$output"
        echo "FAILED: $name"
        failed=$((failed + 1))
        return 1
    fi
}

# ctest_in PRESET COMMAND-PREFIX...: adds ctest's counts to ours. A run of no test at all counts as a failure.
ctest_in() {
    local preset=$1 log=build/$1-ctest.log line
    shift
    "$@" ctest --preset "$preset" -j "$(nproc)" 2>&1 | tee "$log"
    line=$(grep -E 'tests passed, [0-9]+ tests? failed out of [0-9]+' "$log" | tail -n 1)
    if [[ $line =~ ([0-9]+)\ tests?\ failed\ out\ of\ ([0-9]+) ]]; then
        failed=$((failed + BASH_REMATCH[1]))
        passed=$((passed + BASH_REMATCH[2] - BASH_REMATCH[1]))
    else
        echo "FAILED: $preset ran no test"
        failed=$((failed + 1))
    fi
}

configure_and_build() {
    cmake --preset "$1" && cmake --build --preset "$1" -j "$(build_jobs)"
}

sources() { find src include tests -name '*.cpp' -o -name '*.hpp'; }
format_check() { sources | xargs clang-format-14 --dry-run -Werror; }

# Lints look at what the compiler reads: eight files as one (the presets' unity build), which takes no longer than one
# of them. What passed is looked at again only if something in src/ has changed since, and none is begun when the whole
# run would become too long; how many were left out is said.
lint_one() {
    local file=$1 stamp=build/lint/${1//\//_}
    if [[ $stamp -nt $NEWEST_SOURCE && $stamp -nt .clang-tidy ]]; then return 0; fi
    if (($(date +%s) > LINT_DEADLINE)); then
        echo "no time left: $file"
        return 0
    fi
    clang-tidy-14 -p build/asan --quiet "$file" 2>&1 && touch "$stamp"
}
lint_check() {
    export -f lint_one
    NEWEST_SOURCE=$(find src include -name '*.[ch]pp' -printf '%T@ %p\n' | sort -n | tail -n 1 | cut -d ' ' -f 2-)
    LINT_DEADLINE=$(($(date +%s) + 860 - (SECONDS - begin)))
    export NEWEST_SOURCE LINT_DEADLINE
    mkdir -p build/lint
    cmake --build build/asan --target lanyard_texts || return
    # shellcheck disable=SC2016
    find build/asan/CMakeFiles -path '*/Unity/*.cxx' -print0 |
        xargs -0 -I '{}' -P "$(nproc)" bash -c 'lint_one "$1"' _ '{}' >build/lint.log
    local code=$?
    # Nothing to look at is no good sign.
    if [[ -z $(find build/asan/CMakeFiles -path "*/Unity/*.cxx" -print -quit) ]]; then return 1; fi
    echo "left out for want of time: $(grep -c '^no time left' build/lint.log)"
    if ((code)); then cat build/lint.log; fi
    return $code
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

step "release build (gcc)"
if check "release build" configure_and_build release; then
    step "release tests"
    ctest_in release
fi

# The whole run has to stay under 15 minutes on two processors: late, the second build is left out, and that is said.
step "sanitizer build (clang)"
if ! check "sanitizer configuration" cmake --preset asan; then
    :
elif ((SECONDS - begin > 540)); then
    echo "left out for want of time: the sanitizer build and its tests (bash tests/run.sh again, with all built, does them)"
elif check "sanitizer build" cmake --build --preset asan -j "$(build_jobs)"; then
    step "sanitizer tests, the short half"
    # The sanitizer's shadow memory does not go with every randomised layout of newer kernels.
    fixed_layout=()
    if setarch -R true 2>/dev/null; then fixed_layout=(setarch -R); fi
    ctest_in asan "${fixed_layout[@]}"
fi

step "lints"
[[ -f build/asan/compile_commands.json ]] && check "clang-tidy" lint_check

step "done"
closing_line
