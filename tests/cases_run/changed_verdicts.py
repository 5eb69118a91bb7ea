#!/usr/bin/env python3
"""changed_verdicts.py OLD NEW [FILE..]: which verdicts differ between two builds of the program.

Judges all models of tests/cases, demo and rules (or the files named) with both and prints a line for each claim whose
verdict differs, for each file whose exit code does, and at the end how many there were. Exits 1 if any differs.
JOBS in the environment: files judged at a time (2).
"""
import concurrent.futures
import json
import os
import pathlib
import subprocess
import sys
import tempfile

root = pathlib.Path(__file__).resolve().parents[2]


def judged(program, model):
    with tempfile.TemporaryDirectory() as folder:
        out = pathlib.Path(folder) / "out.json"
        command = [program, "check", str(model), "--json", str(out), "--time", "300"]
        done = subprocess.run(command, capture_output=True, cwd=folder)
        claims = json.loads(out.read_text())["claims"] if out.exists() else []
        return done.returncode, {c["id"]: c["verdict"] for c in claims}


def compared(old, new, model):
    (code_a, a), (code_b, b) = judged(old, model), judged(new, model)
    lines = [] if code_a == code_b else [f"exit {code_a} -> {code_b}"]
    lines += [f"{c}: {a.get(c)} -> {b.get(c)}" for c in {**a, **b} if a.get(c) != b.get(c)]
    return len({**a, **b}), lines


def main():
    old, new = (os.path.abspath(p) for p in sys.argv[1:3])
    models = [pathlib.Path(p).resolve() for p in sys.argv[3:]]
    if not models:
        found = [*root.glob("tests/cases/*/*.json"), *root.glob("demo/*.json"), *root.glob("rules/*/*.json")]
        models = sorted(p for p in found if not p.name.endswith(".expect.json") and p.name != "pack.json")
    claims = changed = 0
    with concurrent.futures.ThreadPoolExecutor(int(os.environ.get("JOBS", "2"))) as pool:
        for model, (n, lines) in zip(models, pool.map(lambda m: compared(old, new, m), models)):
            claims += n
            changed += len(lines)
            for line in lines:
                print(f"{os.path.relpath(model, root)}: {line}", flush=True)
    print(f"{len(models)} models, {claims} claims, {changed} differences")
    return 1 if changed else 0


if __name__ == "__main__":
    sys.exit(main())
