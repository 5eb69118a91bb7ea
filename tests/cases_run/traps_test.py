#!/usr/bin/env python3
"""traps_test.py LANYARD CASES: a refutation names what the repair changes.

A trap is a model in CASES/refuted whose repaired twin in CASES/proved does what each claim asks. What differs between
the two is what was wrong; so each claim that is refuted of the one and proved of the other has to name it where the
story says why. The differences are read off the two files. By hand are only words that a name does not hold: what
must be said of it."""
import json
import pathlib
import re
import subprocess
import sys

# Trap: what its story says of what is named. Each holds for one of its claims at least.
SAYS = {
    "oil-permissive-crank": ["oil_ok off because oil", "not above 15 psi since the run began"],
    "loopback-never-closes": ["enable"],
    "prime-expiry": ["fpump off", "TP(key, 3 s) ended", "not above 400 rpm since the run began"],
    "chatter-no-band": ["is above 110 degC", "is not above 110 degC"],
    "corner-surge": ["cut on because low on"],
    "delays-add-up": ["its TON has run", "warn"],
    "reset-needs-tripped": ["oil > 20 psi is true in no run from there", "the engine can no longer be running"],
    "overtemp-stops-pump": ["clt < 100 degC is true in no run from there", "wpump stays off"],
    "override-or-outside": ["ok on because ovr on"],
    "and-or-precedence": ["prime on"],
    "alternator-backfeed": ["alternator (engine running) - bus - ign"],
    "kill-wire-open": ["kill_in seen off because the wire W1"],
    "kill-release-restarts": ["kill not pressed since"],
    "master-relay-weld": ["battery - K1.make - ign - coil", "K1 welds"],
    "fan-table-hole": ["fan_map says:", "100 degC, 40 km/h is 10 %"],
    "load-shed-cycling": ["is at most 12 V", "is above 12 V"],
    "oil-open-wire-healthy": ["is not below 15 psi", "the signal wire of oil_r breaks"],
    "crank-dip-clears-trip": ["its SR lost its state with the controller's power"],
    "stuck-start-power-up": ["its R_TRIG sees an edge, as its input is on at power-up"],
    "intermittent-never-trips": ["its TON"],
    "starter-while-running": ["start pressed"],
    "loopback-seals-in": ["enable on, which has held itself so", "start pressed"],
    "pump-after-stall": ["fpump on because key on"],
    "nitrous-stays-on": ["its RS has not been reset since", "because arm on"],
}
# Of a story, where it says why.
LABELS = ("why", "trapped", "because of")
NAME = re.compile(r"[A-Za-z_][\w.]*")


def definitions(model):
    """What a model's file says, thing by thing: name -> text."""
    out = {}
    for key in ("logic", "outputs", "tables", "inputs", "sensors"):
        for name, what in model.get(key, {}).items():
            out[name] = json.dumps(what)
    for name, wire in model.get("circuit", {}).get("wires", {}).items():
        out["wire " + name] = wire
    return out


def changed(broken, repaired):
    """The sets of names of which a story has to name one in full."""
    was, now = definitions(broken), definitions(repaired)
    out = []
    for name, what in was.items():
        if now.get(name) == what:
            continue
        if name.startswith("wire "):
            out.append({x for x in NAME.findall(what)} - {"battery", "ground"})
        else:
            out.append({name})
    return out


def whys(text):
    """Claim -> the words of its story that say why."""
    out = {}
    claim, label = None, None
    for line in text.splitlines():
        heading = re.match(r"(\S.*): REFUTED, \S+\.json:", line)
        if heading:
            claim, label = heading.group(1), None
            out[claim] = []
        elif line and not line.startswith(" "):
            claim = None
        elif claim is not None:
            if line[2:3].strip():
                label = line[2:16].strip()
            if label in LABELS:
                out[claim].append(line[16:].strip())
    return {claim: " ".join(words) for claim, words in out.items()}


def problems_of(trap, lanyard, cases):
    broken_file = cases / "refuted" / (trap + ".json")
    repaired_file = cases / "proved" / (trap + "-repaired.json")
    broken, repaired = (json.loads(f.read_text()) for f in (broken_file, repaired_file))
    verdicts = [json.loads(f.with_suffix(".expect.json").read_text())["claims"] for f in (broken_file, repaired_file)]
    claims = [c for c in verdicts[0] if verdicts[0][c] == "refuted" and verdicts[1].get(c) == "proved"]
    if not claims:
        return ["no claim tells the twins apart"]
    wanted = changed(broken, repaired)
    if not wanted:
        return ["the twins do not differ"]
    command = [lanyard, "check", str(broken_file), "--color", "never"]
    for claim in claims:
        command += ["--claim", claim]
    told = whys(subprocess.run(command, capture_output=True, text=True, check=False).stdout)
    out = []
    for claim in claims:
        why = told.get(claim, "")
        names = set(NAME.findall(why))
        if not any(all(part in names for part in one) for one in wanted):
            out.append(f"{claim}: names none of {wanted}, but: {why}")
    all_of_it = " ".join(told.values())
    out += [f"no story says '{words}', but: {all_of_it}" for words in SAYS[trap] if words not in all_of_it]
    return out


def main():
    lanyard, cases = sys.argv[1], pathlib.Path(sys.argv[2])
    failed = 0
    for trap in SAYS:
        for problem in problems_of(trap, lanyard, cases):
            print(f"WRONG: {trap}: {problem}")
            failed += 1
    print(f"{len(SAYS)} traps")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
