"""evidence_test.py LANYARD MODEL...

Checks each model with --evidence and judges the folder from outside: every obligation says what it must answer and
gets that answer from z3 and cvc5, recheck.sh agrees and notices a forged file, refutations and examples come as JSON
and VCD, everything names the model, and no file is left half-written.
"""
import hashlib
import json
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

problems = []


def expect(good, text):
    if not good:
        problems.append(text)


def judge_obligation(solver, file):
    status = re.findall(r"^\(set-info :status (sat|unsat)\)$", file.read_text(), re.M)
    expect(len(status) == 1, f"{file}: no status, or more than one")
    done = subprocess.run([solver, str(file)], capture_output=True, text=True, timeout=120)
    answer = done.stdout.strip()
    expect(status and answer == status[0] and done.returncode == 0, f"{solver}: {file}: {answer[:100]}, not {status}")


def judge_run(json_file, vcd_file, sha):
    text = json_file.read_text()
    run = json.loads(text)
    expect(isinstance(run, dict) and sha in text, f"{json_file}: does not name its model")
    vcd = vcd_file.read_text()
    expect("$enddefinitions $end" in vcd and "$timescale" in vcd and sha in vcd, f"{vcd_file}: no whole VCD of this model")
    times = [int(t) for t in re.findall(r"^#(\d+)$", vcd, re.M)]
    expect(times == sorted(set(times)) and times, f"{vcd_file}: times do not rise")


def judge_claim(folder, claim, sha):
    """Which files are owed for which verdict."""
    verdict, kind = claim["verdict"], claim["kind"]
    names = {f.name for f in folder.iterdir()}
    proof = {"start.smt2", "step.smt2", "safe.smt2", "invariant.txt"}
    owed = {"verdict.txt"}
    if verdict == "proved":
        owed |= {"example.json", "example.vcd"}
        if kind != "possible":
            owed |= proof | {"alive.smt2"}
            expect(names & {"time-ways.smt2", "time-safe.smt2"}, f"{folder}: nothing says that time goes on")
    if verdict == "refuted":
        owed |= proof if kind == "possible" else {"run.json", "run.vcd"}
        if kind == "recoverable":  # a run into a trap, and that nothing behind it reaches the goal
            owed |= proof | {"reached.smt2"}
    if verdict == "vacuous" and not names & {"run.json"}:
        owed |= proof if "start.smt2" in names else set()
    expect(owed <= names, f"{folder}: {sorted(owed - names)} are missing")
    expect("reached.smt2" not in names - owed, f"{folder}: what does it start behind?")
    allowed = owed | proof | {"alive.smt2", "stuck.smt2", "run.json", "run.vcd"}
    strange = {n for n in names - allowed if not re.fullmatch(r"base\d+\.smt2|time-[a-z0-9]+\.smt2", n)}
    expect(not strange, f"{folder}: {sorted(strange)} are unknown")
    for file in folder.iterdir():
        expect(file.stat().st_size > 0 and file.read_bytes().endswith(b"\n"), f"{file}: not whole")
        expect(sha in file.read_text(), f"{file}: does not name its model")
    for name in ("run", "example"):
        if f"{name}.json" in names:
            judge_run(folder / f"{name}.json", folder / f"{name}.vcd", sha)


def recheck(root):
    return subprocess.run(["sh", str(root / "recheck.sh")], capture_output=True, text=True, timeout=300, cwd="/")


def judge_model(lanyard, model, scratch):
    root = scratch / model.stem
    result = scratch / (model.stem + ".json")
    done = subprocess.run([lanyard, "check", str(model), "--evidence", str(root), "--json", str(result)],
                          capture_output=True, text=True, cwd=scratch)
    expect(done.returncode in (0, 10), f"{model}: exit {done.returncode}\n{done.stdout}{done.stderr}")
    sha = hashlib.sha256(model.read_bytes()).hexdigest()
    claims = json.loads(result.read_text())["claims"]
    folders = sorted(f for f in root.iterdir() if f.is_dir())
    expect(len(folders) == len(claims), f"{root}: {len(folders)} folders for {len(claims)} claims")
    expect({f.name for f in root.iterdir() if f.is_file()} == {"README.txt", "recheck.sh"}, f"{root}: strange files")
    for folder, claim in zip(folders, claims):
        judge_claim(folder, claim, sha)
    files = sorted(root.glob("*/*.smt2"))
    expect(files, f"{root}: no obligation at all")
    for solver in ("z3", "cvc5"):
        for file in files:
            judge_obligation(solver, file)
    done = recheck(root)
    expect(done.returncode == 0, f"{root}: recheck.sh exits {done.returncode}: {done.stdout}{done.stderr}")
    expect(f"{2 * len(files)} as expected, 0 not" in done.stdout, f"{root}: recheck.sh says {done.stdout}")
    forged = next(f for f in files if f.name == "start.smt2")
    forged.write_text(forged.read_text().replace(":status unsat", ":status sat"))
    expect(recheck(root).returncode == 1, f"{root}: recheck.sh takes a forged file")
    return len(files), {c["verdict"] for c in claims}, {(c["kind"], c["verdict"]) for c in claims}


def main():
    lanyard = str(pathlib.Path(sys.argv[1]).resolve())
    scratch = pathlib.Path(tempfile.mkdtemp(prefix="lanyard-evidence-"))
    verdicts, kinds = set(), set()
    try:
        for name in sys.argv[2:]:
            count, seen, of = judge_model(lanyard, pathlib.Path(name).resolve(), scratch)
            verdicts |= seen
            kinds |= of
            print(f"{name}: {count} obligations")
    finally:
        shutil.rmtree(scratch)
    expect({"proved", "refuted", "vacuous"} <= verdicts, f"only {sorted(verdicts)} were seen")
    owed = {(k, v) for k in ("always", "response", "possible", "change limit", "recoverable", "procedure")
            for v in ("proved", "refuted")}
    expect(owed <= kinds, f"of no kind and verdict {sorted(owed - kinds)} was any evidence seen")
    for problem in problems:
        print("WRONG:", problem)
    return 1 if problems else 0


sys.exit(main())
