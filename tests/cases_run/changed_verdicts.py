#!/usr/bin/env python3
"""changed_verdicts.py [--evidence] OLD NEW [FILE..]: which verdicts differ between two builds of the program.

Judges all models of tests/cases, demo and rules (or the files named) with both and prints a line for each claim whose
verdict differs, for each file whose exit code does, and at the end how many there were. Exits 1 if any differs.
--evidence: for each obligation and run of the evidence, too, that differs in anything but the program's version; the
sentences beside them (verdict.txt) may differ. JOBS in the environment: files judged at a time (2).
"""
import concurrent.futures
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

root = pathlib.Path(__file__).resolve().parents[2]


def obligations_and_runs(folder):
    files = [p for p in folder.rglob("*") if p.suffix in (".smt2", ".json", ".vcd")]
    version = re.compile(rb'(lanyard"?:? "?)[0-9.]+')
    return {str(p.relative_to(folder)): version.sub(rb"\1", p.read_bytes()) for p in files}


def judged(program, model, with_evidence):
    with tempfile.TemporaryDirectory() as folder:
        out, evidence = pathlib.Path(folder) / "out.json", pathlib.Path(folder) / "evidence"
        command = [program, "check", str(model), "--json", str(out), "--time", "300"]
        done = subprocess.run(command + ["--evidence", str(evidence)] * with_evidence, capture_output=True, cwd=folder)
        claims = json.loads(out.read_text())["claims"] if out.exists() else []
        return done.returncode, {c["id"]: c["verdict"] for c in claims}, obligations_and_runs(evidence)


def compared(old, new, model, with_evidence):
    (code_a, a, told_a), (code_b, b, told_b) = (judged(p, model, with_evidence) for p in (old, new))
    lines = [] if code_a == code_b else [f"exit {code_a} -> {code_b}"]
    lines += [f"{c}: {a.get(c)} -> {b.get(c)}" for c in {**a, **b} if a.get(c) != b.get(c)]
    lines += [f"evidence {f}" for f in sorted({**told_a, **told_b}) if told_a.get(f) != told_b.get(f)]
    return len({**a, **b}), len({**told_a, **told_b}), lines


def main():
    words = sys.argv[1:]
    with_evidence = words[:1] == ["--evidence"]
    old, new, *models = (pathlib.Path(p).resolve() for p in words[with_evidence:])
    if not models:
        found = [*root.glob("tests/cases/*/*.json"), *root.glob("demo/*.json"), *root.glob("rules/*/*.json")]
        models = sorted(p for p in found if not p.name.endswith(".expect.json") and p.name != "pack.json")
    claims = files = changed = 0
    with concurrent.futures.ThreadPoolExecutor(int(os.environ.get("JOBS", "2"))) as pool:
        results = pool.map(lambda m: compared(old, new, m, with_evidence), models)
        for model, (n, told, lines) in zip(models, results):
            claims, files = claims + n, files + told
            changed += len(lines)
            for line in lines:
                print(f"{os.path.relpath(model, root)}: {line}", flush=True)
    print(f"{len(models)} models, {claims} claims, {files} files of evidence, {changed} differences")
    return 1 if changed else 0


if __name__ == "__main__":
    sys.exit(main())
