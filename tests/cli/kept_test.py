#!/usr/bin/env python3
"""kept_test.py LANYARD: what a kept file says is believed of nobody.

The seal of a kept file is a plain hash, so whoever wants to can make one. Kept files are forged here in every way that we
could think of: lemmas that are commands of a solver, every field of a real answer given another value, answers of other
claims, files that are no JSON. Each time the check must say, and write as JSON, the same bytes as without the file, or
refuse the file with its documented message and exit code, and leave nothing behind. Where a run of the model is forged,
another one of its runs may be shown; the verdicts must be the same.
"""
import copy
import hashlib
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

MODEL = {
    "lanyard": 1, "name": "Forged",
    "quantities": {"oil": "0 .. 5 bar"},
    "inputs": {"key": "maintained", "arm": "momentary", "clear": "momentary", "gauge": {"senses": "oil"}},
    "logic": {"held": "RS(arm, clear)", "second": "RS(key AND held, clear)", "late": "TON(held, 30 ms)"},
    "outputs": {"pump": "key AND late", "lamp": "second", "low": "gauge < 1 bar"},
    "claims": {
        "lit first": {"always": "lamp -> held"},
        "never late": {"always": "NOT late"},
        "lamp when low": {"always": "low -> lamp"},
        "never gets there": {"possible": "late AND NOT held"},
    },
}
# What the lemma of the first lie ends with: an initial state of the model as a lie would like to have it.
STATE = "(declare-fun s.held.latched@0 () Bool) (assert (not s.held.latched@0))"
LEMMAS = {
    "reset-assertions": f"true) (reset-assertions) {STATE} (assert false",
    "reset": f"true) (reset) {STATE} (assert false",
    "writes a file": 'true) (set-option :regular-output-channel "WRITTEN") (echo "x"',
    "writes a file by diagnostics": 'true) (set-option :diagnostic-output-channel "WRITTEN") (echo "x"',
    "reads a file": 'true) (include "/etc/hostname"',
    "exit": "true) (exit",
    "push": "true) (push 1) (assert false) (check-sat",
    "define": "true) (define-fun p () Bool false) (assert p",
    "false": "false",
    "true": "true",
    "not true": "(not true)",
    "next state": "(not s.held.latched@1)",
    "this state": "(not s.held.latched@0)",
    "foreign name": "(= foreign 1)",
    "empty": "",
    "blank": " ",
    "comment": "true ; and all is well",
    "named": "(! true :named all)",
    "quantified": "(forall ((x Int)) (> x 0))",
    "let of nothing": "(let () true)",
    "string": '"true"',
    "quoted": "|true) (exit|",
    "half": "(and true",
    "too many": "true)",
    "deep": "(not " * 200_000 + "true" + ")" * 200_000,
    "deeper": "(not " * 1_000_000 + "true" + ")" * 1_000_000,
    "open": "(" * 1_000_000,
    "long": "(and " + "true " * 100_000 + ")",
    "number": "(= k " + "9" * 1_000_000 + ")",
}
VALUES = [None, True, 0, -1, 1.5, 2, 1000, 10**6, 10**30, "", "1", "\u0000", [], {}, ["x"]]
TANGENTS = [[{"product": "abc", "u": "1", "v": "1"}], [{"product": "", "u": "abc", "v": "1"}],
            [{"product": "", "u": "1/0", "v": "1"}], [{"product": "", "u": "9" * 10**6, "v": "1"}], [{}], [[]], [1],
            [{"product": "p", "u": 1, "v": 2}], [{"product": "p", "u": "1", "v": "1"}] * 5000]


RUNS = "another run: "


def dump(o):
    return json.dumps(o, separators=(",", ":"), ensure_ascii=False)


def sealed(o):
    head = {k: v for k, v in o.items() if k not in ("seal", "answers")}
    seal = hashlib.sha256((dump(head) + dump(o["answers"])).encode()).hexdigest()
    return (json.dumps({**head, "seal": seal, "answers": o["answers"]}, indent=1, ensure_ascii=False) + "\n").encode()


def proof(lemmas, **other):
    return {"engine": "directed",
            "certificate": {"induction": 1, "lemmas": lemmas, "wide": False, "tangents": [], **other}}


def places_in(value, path=()):
    yield path
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for step, part in inner:
        yield from places_in(part, (*path, step))


def other_runs(kept):
    key = max((k for k, a in kept["answers"].items() if "run" in a), key=lambda k: len(dump(kept["answers"][k])))
    run = kept["answers"][key]["run"]
    for n, place in enumerate(places_in(run, ("run",))):
        # Each place gets one or two of the values, each value comes to some of the places.
        for value in [None, -1, 10**30, "", {}, "running", "1/2", "1/0", ["key"], run, run[:1]][n % 7::7]:
            forged = copy.deepcopy(kept)
            at = forged["answers"][key]
            for step in place[:-1]:
                at = at[step]
            at[place[-1]] = value
            yield f"{RUNS}{'/'.join(map(str, place))} = {dump(value)[:40]}", sealed(forged)


def lies(kept):
    """Names and bytes of forged files."""
    def with_all(change):
        forged = copy.deepcopy(kept)
        for key in forged["answers"]:
            forged["answers"][key] = change(forged["answers"][key])
        return sealed(forged)

    for name, lemma in LEMMAS.items():
        yield "lemma: " + name, with_all(lambda _: proof([lemma]))
    yield "old form", with_all(lambda _: proof(["false"], assumptions=[], elements=["o"], unused_elements=[], leaps=True))
    yield "no lemma", with_all(lambda _: proof([]))
    yield "undecided", with_all(lambda _: {"engine": "directed", "open": {"reason": "all is well", "depth": 3}})
    yield "undecided at a depth", with_all(lambda a: {**a, "open": {"reason": "all is well", "depth": 3}})
    yield "all are hits", with_all(lambda _: {"engine": "bounded", "depth": 1})
    yield "all are deep hits", with_all(lambda _: {"engine": "bounded", "depth": 10**6})
    yield "a run", with_all(lambda _: {"engine": "bounded", "run": {"scans": 1, "segments": []}})
    yield "hit by a prover", with_all(lambda a: {**a, "engine": "directed"} if "depth" in a else a)
    yield "proof by search", with_all(lambda a: {**a, "engine": "bounded"} if "certificate" in a else a)
    keys, answers = list(kept["answers"]), list(kept["answers"].values())
    for shift in range(1, len(keys)):
        forged = {**kept, "answers": dict(zip(keys, answers[shift:] + answers[:shift]))}
        yield f"{RUNS}answers of other questions ({shift})", sealed(forged)
    # Every member of one answer of each kind given another value; one left out; one more.
    for kind in ("depth", "certificate"):
        key = max((k for k, a in kept["answers"].items() if kind in a), key=lambda k: len(dump(kept["answers"][k])))
        places = [()] + [(m,) for m in kept["answers"][key]]
        if kind == "certificate":
            places += [(kind, m) for m in kept["answers"][key][kind]] + [(kind, "lemmas", 0)]
        for place in places:
            for value in [*VALUES, *(TANGENTS if place[-1:] == ("tangents",) else [])]:
                forged = copy.deepcopy(kept)
                at, last = forged["answers"], key
                for step in place:
                    at, last = at[last], step
                if at[last] == value and type(at[last]) is type(value):
                    continue
                at[last] = value
                yield f"{'/'.join(map(str, (kind, *place)))} = {dump(value)[:40]}", sealed(forged)
            if place[-1:] and isinstance(place[-1], str):
                forged = copy.deepcopy(kept)
                at = forged["answers"][key]
                for step in place[:-1]:
                    at = at[step]
                del at[place[-1]]
                yield f"{'/'.join((kind, *place))} left out", sealed(forged)
        forged = copy.deepcopy(kept)
        forged["answers"][key]["more"] = 1
        yield f"{kind}: one more member", sealed(forged)
    yield from other_runs(kept)
    for names in ([], ["late"], ["held", "second", "late", "pump", "lamp", "low"], ["nothing"], [1], "late", None):
        yield f"{RUNS}rests on {names}", with_all(
            lambda a: {**a, "rests_on": {"elements": names, "parts": [], "assumptions": []}} if "rests_on" in a else a)
    for value in VALUES:
        yield f"answers = {dump(value)[:40]}", sealed({**kept, "answers": value})
        yield f"version = {dump(value)[:40]}", sealed({**kept, "lanyard_kept": value})
    good = sealed(kept).decode()
    yield "seal", good.replace('"seal": "', '"seal": "0', 1).encode()
    yield "twice", good.replace('"answers"', '"answers": {}, "answers"', 1).encode()
    yield "a key twice", good.replace('"engine"', '"engine": "x", "engine"', 1).encode()
    yield "NaN", good.replace('"depth": 1', '"depth": NaN').replace('"induction": 1', '"induction": NaN').encode()
    yield "half", good[: len(good) // 2].encode()
    yield "no UTF-8", good.replace('"engine": "', '"engine": "\udcff', 1).encode("utf-8", "surrogateescape")
    yield "deep", good.replace('"answers": {', '"answers": {"deep": ' + "[" * 10**6 + "]" * 10**6 + ",", 1).encode()
    yield "deep and open", b"[" * 10**6
    yield "deep objects", b'{"a":' * 10**6
    yield "nothing", b""
    yield "NUL", b"\0"
    yield "a number", b"1" * 10**6


def verdicts(result):
    return [(claim["id"], claim["verdict"]) for claim in json.loads(result)["claims"]] if result else None


def main():
    lanyard = os.path.abspath(sys.argv[1])
    wrong = []
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        pathlib.Path("m.json").write_text(json.dumps(MODEL), encoding="utf-8")

        def check(*words):
            pathlib.Path("r.json").unlink(missing_ok=True)
            done = subprocess.run([lanyard, "check", "m.json", "--json", "r.json", "--jobs", "2", *words],
                                  capture_output=True, timeout=120)
            file = pathlib.Path("r.json")
            return done.returncode, done.stdout, file.read_bytes() if file.exists() else b"", done.stderr

        plain = check()
        assert plain[0] == 10 and plain[2], plain
        heading = plain[1][: plain[1].index(b"\n\n") + 2]
        assert check("--keep", "k.json") == plain
        written = pathlib.Path("k.json").read_bytes()
        assert check("--keep", "k.json") == plain
        assert pathlib.Path("k.json").read_bytes() == written, "an honest file is not the same after it was used"
        kept = json.loads(written)
        assert sealed(kept) == written, "the seal is not what this test takes it for"
        assert sum("certificate" in a for a in kept["answers"].values()) >= 2
        assert sum("depth" in a for a in kept["answers"].values()) >= 2
        files = sorted(os.listdir())
        count = 0
        for name, content in lies(kept):
            count += 1
            pathlib.Path("k.json").write_bytes(content)
            try:
                code, out, result, err = check("--keep", "k.json")
            except subprocess.TimeoutExpired:
                wrong.append(f"{name}: no end")
                continue
            refused = code == 2 and heading.startswith(out) and re.search(rb"^k\.json:\d+:\d+: error: .*\[[a-z0-9-]+\]$", err, re.M)
            if refused and pathlib.Path("k.json").read_bytes() != content:
                wrong.append(f"{name}: refused, and changed all the same")
            same = (code, out, result, err) == plain
            if name.startswith(RUNS) and not same:
                same = (code, verdicts(result), err) == (plain[0], verdicts(plain[2]), plain[3])
            if not refused and not same:
                wrong.append(f"{name}: exit {code}\n{out.decode()[-300:]}{err.decode(errors='replace')[-300:]}")
            if sorted(set(os.listdir()) | {"r.json"}) != files:
                wrong.append(f"{name}: left {set(os.listdir()) - set(files)} behind")
                for left in set(os.listdir()) - set(files):
                    os.remove(left)
    print(f"{count} lies, {len(wrong)} believed")
    for line in wrong:
        print("  " + line)
    return 1 if wrong or count < 200 else 0


if __name__ == "__main__":
    sys.exit(main())
