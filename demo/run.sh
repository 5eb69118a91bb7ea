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

# judge EXIT EXPECTATION MODEL [OPTION]...: check demo/MODEL.json and compare every verdict with the expected one. What it
# printed is in $report.
judge() {
    local expected=$1 expectation=$2 model=$3 code=0
    shift 3
    printf '\n$ lanyard check demo/%s.json%s\n' "$model" "${*:+ $*}"
    report=$results/report.txt
    "$lanyard" check "demo/$model.json" "$@" --json "$results/$model.json" >"$report" || code=$?
    if ((code != expected)); then
        echo "UNEXPECTED: exit code $code instead of $expected"
        wrong=1
    fi
    python3 demo/compare.py "$results/$model.json" "$expectation" || wrong=1
}

# Only the list of the verdicts: up to the first blank line after it.
verdicts() { awk '/^  (proved|REFUTED|VACUOUS|undecided) / { list = 1 } list && /^$/ { exit } { print }' "$report"; }

# What the report says of the claim TITLE.
story_of() { awk -v title="$1: " 'index($0, title) == 1 { on = 1; print; next } /^[^ ]/ { on = 0 } on' "$report"; }

packs=good-practice,circuit-cars

mkdir -p build/demo
found=build/demo/car.found
rm -f "$found"
judge 10 demo/car.expect.json car --keep "$found"
cat "$report"
printf '\n$ lanyard report demo/car.json --out build/demo/report --keep %s\n' "$found"
code=0
build/release/lanyard report demo/car.json --out build/demo/report --keep "$found" | tail -n 2 || code=$?
if ((code != 10)); then
    echo "UNEXPECTED: exit code $code instead of 10"
    wrong=1
fi
judge 0 demo/car-repaired.expect.json car-repaired
verdicts

cat <<'TEXT'

The same two cars judged by two rule packs: good practice, and circuit and hill-climb cars. These models name no signal
for the oil pressure trip's roles: the claims above judge it, and the rules about it are listed as not applying.
TEXT
judge 10 demo/rules/car.expect.json car --rules "$packs" --rules-only
verdicts
printf '\nOne of them in full:\n\n'
story_of "circuit-cars/pump-only-while-running: pump off unless the engine turns or is being started"
judge 0 demo/rules/car-repaired.expect.json car-repaired --rules "$packs" --rules-only
verdicts
echo
awk '/^Rules of packs$/ { on = 1 } on' "$report"

cat <<'TEXT'

The wiring of the same car: battery, alternator, breaker, fuses, relays, loop wire and kill wire, as first built and as
repaired.
TEXT
judge 10 demo/wired-car.expect.json wired-car
verdicts
printf '\nWhat lets the engine run on with the breaker off:\n\n'
story_of "breaker off stops the engine"
judge 0 demo/wired-car-repaired.expect.json wired-car-repaired
verdicts

cat <<'TEXT'

What one broken part can do to the red button of the repaired wiring: each wire, fuse, relay, switch and output, one at
a time and from any moment on; then the rows of the table of failure modes for that button.
TEXT
kill="pit kill stops fuel and spark" code=0
printf '\n$ lanyard faults demo/wired-car-repaired.json --claim "%s"\n' "$kill"
"$lanyard" faults demo/wired-car-repaired.json --claim "$kill" --json "$results/faults.json" \
    --csv "$results/faults.csv" >"$results/faults.txt" || code=$?
if ((code != 10)); then
    echo "UNEXPECTED: exit code $code instead of 10"
    wrong=1
fi
python3 demo/compare_faults.py "$results/faults.json" demo/faults/wired-car-repaired.expect.json || wrong=1
cat "$results/faults.txt"
printf '\n'
head -n 1 "$results/faults.csv"
grep -F "$kill" "$results/faults.csv"

cat <<'TEXT'

The bench-test card of the repaired car: what to set and what to expect, to find out whether it is wired and set up as
its model says. The whole card, to be printed and filled in, is build/demo/card.html; it begins like this:
TEXT
printf '\n$ lanyard card demo/car-repaired.json\n\n'
for form in text html; do
    code=0
    "$lanyard" card demo/car-repaired.json --format $form --out "build/demo/card.$form" || code=$?
    if ((code != 0)); then
        echo "UNEXPECTED: exit code $code instead of 0"
        wrong=1
    fi
done
awk '/^Step 6$/ { exit } { print }' build/demo/card.text
if ((wrong)); then
    echo "Something is not as expected: see UNEXPECTED above."
    exit 1
fi
cat <<'TEXT'
Every verdict is as expected: the car as delivered has traps in it and breaks rules; its repaired twin does not.

Where to look next:
  diff demo/car.json demo/car-repaired.json                 what the repair changed
  build/release/lanyard claims demo/car.json                what the words of the claims stand for
  build/release/lanyard check demo/car-repaired.json        what its proofs rest on
  build/demo/report/report.html                             all of it as a page to hand on
  build/release/lanyard why demo/car.json fuel_pump --claim "starts after waiting for the lamps"   what holds it off
  build/release/lanyard mutants demo/car-repaired.json      which mistakes in the logic no claim would notice
  build/release/lanyard rules circuit-cars                  what a rule pack demands
  build/release/lanyard help verdicts                       what each verdict promises
  build/release/lanyard check demo/car.json --evidence out  the evidence for them: see out/README.txt
  build/release/lanyard help meaning                        what a model means, to write your own
  SAFETY.md                                                 before you act on any of it
TEXT
