"""outputs_test.py LANYARD RULED MODEL...

Each model (RULED with the rules of its pack) is checked with every output side by side, and each file is read back by something that is not lanyard:

  JUnit    xmllint (Debian: libxml2-utils) with junit.xsd, then Python's XML reader
  SARIF    sarif_rules.py, rules of the standard with their section numbers
  VCD      vcd_reader.py (IEEE 1364-2005, clause 18), and sigrok-cli (Debian) as a reader of others
  CSV      Python's csv module
  DOT      dot (Debian: graphviz)
  case     its hashes are those of the files that --evidence wrote; what is refuted is not met

The verdicts in all of them are those of --json, and a second check writes the same bytes.
"""

import csv
import hashlib
import json
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ET

from sarif_rules import sarif_problems
from vcd_reader import VcdError, read_vcd

HERE = pathlib.Path(__file__).resolve().parent
problems = []


def expect(good, text):
    if not good:
        problems.append(text)


def run(*command, cwd=None, check=None):
    done = subprocess.run([str(c) for c in command], capture_output=True, text=True, cwd=cwd, timeout=300)
    if check is not None:
        expect(done.returncode in check, f"{command[:3]}: exit {done.returncode}: {done.stderr[-400:]}")
    return done


def check(lanyard, model, folder, *options):
    """All outputs of one check; its texts by name."""
    folder.mkdir()
    shutil.copy(model, folder / model.name)
    run(lanyard, "check", model.name, "--junit", "v.xml", "--sarif", "v.sarif", "--csv", "v.csv", "--json", "v.json",
        "--vcd", "runs", "--keep", "found.json", *options, cwd=folder, check=(0, 10, 20))
    run(lanyard, "case", model.name, "--out", "case.txt", "--dot", "case.dot", "--record", "record.txt", "--evidence",
        "evidence", "--keep", "found.json", *options, cwd=folder, check=(0, 10, 20))
    graph = [o for o in options if "--work" not in options]
    run(lanyard, "graph", model.name, *graph, "--out", "model.dot", cwd=folder, check=(0,))
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def judge_junit(folder, result, sha):
    file = folder / "v.xml"
    done = run("xmllint", "--noout", "--nonet", "--schema", HERE / "junit.xsd", file)
    expect(done.returncode == 0, f"{file}: {done.stderr}")
    suite = ET.parse(file).getroot().find("testsuite")
    expect({p.get("name"): p.get("value") for p in suite.iter("property")}["sha256"] == sha, f"{file}: of another model")
    wanted = {"proved": None, "refuted": "failure", "vacuous": "failure", "undecided": "error"}
    cases = [c for c in suite.iter("testcase") if c.find("skipped") is None]
    expect(len(cases) == len(result["claims"]), f"{file}: {len(cases)} test cases")
    for case, claim in zip(cases, result["claims"]):
        bad = [e.tag for e in case if e.tag != "system-out"]
        expect(bad == [t for t in [wanted[claim["verdict"]]] if t], f"{file}: {claim['id']} is {bad}")
        expect(case.get("name") == claim["id"], f"{file}: {case.get('name')}, not {claim['id']}")
        for e in case:
            expect(e.tag == "system-out" or e.get("type") == claim["verdict"], f"{file}: {e.get('type')}")
            expect(claim["verdict"] in e.text.lower() and "\n" in e.text, f"{file}: {claim['id']}: no story")
    for tag, name in (("failure", "failures"), ("error", "errors"), ("skipped", "skipped"), ("testcase", "tests")):
        expect(int(suite.get(name)) == len(list(suite.iter(tag))), f"{file}: {name} are not counted right")
    skipped = [r["rule"] for r in result.get("rules", {}).get("rules", []) if r["state"] != "judged"]
    expect([c.get("classname") for c in suite.iter("testcase") if c.find("skipped") is not None] == skipped,
           f"{file}: rules that do not apply")


def judge_sarif(folder, model, result):
    file = folder / "v.sarif"
    text = file.read_text()
    source = model.read_text()
    document = json.loads(text)
    for problem in sarif_problems(document, source):
        problems.append(f"{file}: {problem}")
    expect(str(folder) not in text and "/tmp" not in text and "file:" not in text, f"{file}: a path of this machine")
    results = document["runs"][0]["results"]
    by_claim = {r["properties"]["claim"]: r for r in results if "properties" in r}
    owed = {c["id"]: c for c in result["claims"] if c["verdict"] != "proved"}
    expect(set(by_claim) == set(owed), f"{file}: {set(by_claim) ^ set(owed)}")
    for name, claim in owed.items():
        found = by_claim[name]
        kinds = {"refuted": ("fail", "error"), "vacuous": ("fail", "error"), "undecided": ("open", "none")}
        expect((found["kind"], found["level"]) == kinds[claim["verdict"]], f"{file}: {name}: {found['kind']}")
        region = found["locations"][0]["physicalLocation"]["region"]
        line = source.split("\n")[claim["line"] - 1]
        expect(region["startLine"] == claim["line"], f"{file}: {name}: line {region}")
        expect(region["startColumn"] == len(line.encode()[:claim["column"] - 1].decode()) + 1, f"{file}: {name}: column")
        expect(("codeFlows" in found) == ("run" in claim), f"{file}: {name}: a code flow without a run, or the reverse")
    prints = [json.dumps(r["partialFingerprints"], sort_keys=True) for r in results]
    expect(len(set(prints)) == len(prints), f"{file}: two results of one fingerprint")
    seen = [f["code"] for f in result.get("findings", [])]
    expect([r["ruleId"] for r in results if "properties" not in r] == seen, f"{file}: findings {seen}")


def judge_csv(folder, result):
    with open(folder / "v.csv", newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file, strict=True))
    told = [(r["claim"], r["verdict"], r["summary"], int(r["line"])) for r in rows]
    # What a spreadsheet would take for a formula has an apostrophe in front.
    def safe(text):
        return "'" + text if text[:1] in ("=", "+", "-", "@") else text

    expect(told == [(safe(c["id"]), c["verdict"], c["summary"], c["line"]) for c in result["claims"]], f"{folder}: v.csv {told}")


def seconds(unit):
    return {"s": 1, "ms": 1e-3, "us": 1e-6, "ns": 1e-9, "ps": 1e-12, "fs": 1e-15}[unit]


def judge_runs(folder, result):
    against = [c for c in result["claims"] if c.get("run", {}).get("segments") and c["verdict"] != "proved"]
    files = sorted((folder / "runs").glob("*.vcd"))
    expect(len(files) == len(against), f"{folder}: {len(files)} runs, {len(against)} owed")
    for file, claim in zip(files, against):
        try:
            unit, values, end = read_vcd(file.read_text())
        except VcdError as e:
            problems.append(f"{file}: {e}")
            continue
        scans, scan = claim["run"]["scans"], float(eval_fraction(result["model"]["scan_s"]))
        expect(abs(end * seconds(unit) - scans * scan) < 1e-9, f"{file}: ends at {end} {unit}, not after {scans} scans")
        first = claim["run"]["segments"][0]["positions"]
        for name, on in first.items():
            path = [p for p in values if re.fullmatch(rf"\w+\.inputs\.{name}", p)]
            expect(len(path) == 1 and values[path[0]][0][1] == str(int(on)), f"{file}: {name} begins as {on}")
        read = run("sigrok-cli", "-I", "vcd", "-i", file, "-O", "csv:dedup=true")
        expect(read.returncode == 0 and read.stdout, f"{file}: sigrok-cli: {read.stderr[-300:]}")


def eval_fraction(text):
    over, _, under = text.partition("/")
    return float(over) / float(under or 1)


def judge_dot(file, least):
    done = run("dot", "-Tplain", file)
    expect(done.returncode == 0 and not done.stderr, f"{file}: {done.stderr[-300:]}")
    nodes = [line for line in done.stdout.splitlines() if line.startswith("node ")]
    expect(len(nodes) >= least, f"{file}: {len(nodes)} nodes")


def judge_case(folder, result):
    text = (folder / "case.txt").read_text()
    flat = " ".join(text.split())
    verdicts = {c["verdict"] for c in result["claims"]}
    top = re.search(r"^G1 goal, (met|OPEN|NOT MET)", text, re.M)
    wanted = "NOT MET" if verdicts & {"refuted", "vacuous"} else "OPEN" if "undecided" in verdicts else None
    expect(top and (wanted is None or top[1] == wanted), f"{folder}: the top goal is {top and top[1]}, not {wanted}")
    decided = [c for c in result["claims"] if c["verdict"] != "undecided"]
    expect(len(re.findall(r"Sn\d+ solution", text)) >= len(decided), f"{folder}: solutions are missing")
    expect(text.count("that challenges it") == sum(c["verdict"] in ("refuted", "vacuous") for c in decided),
           f"{folder}: challenges")
    record = (folder / "record.txt").read_text()
    marks = re.findall(r"evidence (\d\S+), SHA-256 ([0-9a-f]{64})", flat)
    expect(len(marks) == len(decided), f"{folder}: {len(marks)} hashes of {len(decided)}")
    for name, mark in marks:
        files = sorted((folder / "evidence" / name).iterdir(), key=lambda f: f.name.encode())
        sums = "".join(f"{hashlib.sha256(f.read_bytes()).hexdigest()}  {f.name}\n" for f in files)
        expect(hashlib.sha256(sums.encode()).hexdigest() == mark, f"{folder}: the evidence {name} has another hash")
        expect(f"{mark}  {name}" in record, f"{folder}: the record does not name {name}")
    rules = result.get("rules", {})
    open_rules = sum(r["state"] != "judged" for r in rules.get("rules", []))
    expect(flat.count("(does not apply: ") == open_rules, f"{folder}: rules that do not apply are not shown as open")
    for i in rules.get("inspect", []):
        wanted = f"goal, OPEN, undeveloped: by hand: {i['name']}: {i['what']}"
        expect(" ".join(wanted.split()) in flat, f"{folder}: {i['name']} is no open goal")
        expect(" ".join(f"[ ] {i['pack']}, {i['name']}:".split()) in " ".join(record.split()), f"{folder}: {i['name']}")
    for mark in (result["model"]["sha256"], result["lanyard"], result["solver"]):
        expect(mark in flat and mark in " ".join(record.split()), f"{folder}: {mark} is not named")
    for words in ("not an approval", "TO BE INSPECTED BY HAND", "SIGNATURES", "WHAT WAS NOT CHECKED", "competent people"):
        expect(words in record, f"{folder}: the record does not say {words}")
    expect(not re.search("[\u200e\u200f\u061c\u202a-\u202e\u2066-\u2069\x00-\x09\x0b-\x1f]", text + record),
           f"{folder}: marks that turn text round")


def judge(lanyard, model, scratch, *options):
    name = f"{model.stem}{'-'.join(options).replace('-', '')}"
    texts = check(lanyard, model, scratch / name, *options)
    folder = scratch / name
    result = json.loads((folder / "v.json").read_text())
    judge_junit(folder, result, hashlib.sha256(model.read_bytes()).hexdigest())
    judge_sarif(folder, model, result)
    judge_csv(folder, result)
    judge_runs(folder, result)
    judge_dot(folder / "model.dot", 5)
    judge_dot(folder / "case.dot", 5)
    judge_case(folder, result)
    again = check(lanyard, model, scratch / (name + "-again"), *options)
    different = [n for n in {*texts, *again} if texts.get(n) != again.get(n)]
    expect(not different, f"{name}: not the same bytes: {different}")
    return result


def long_model(strange, scratch):
    """The strange model with 10^5 characters more, all on one line."""
    content = json.loads(strange.read_text())
    claims = content.pop("claims")
    content["note"] = "x\u00e4" * 50000
    content["claims"] = {**claims, "long": {"always": " OR ".join(["NOT pump", *["key"] * 3000, "NOT key"])}}
    file = scratch / "long.json"
    file.write_text(json.dumps(content, ensure_ascii=False), encoding="utf-8")
    expect(len(file.read_text()) > 100000, "not long enough")
    return file


def judge_usage(lanyard, model, scratch):
    for options, words in (
        (("--junit", "none/v.xml"), "the folder does not exist: none"),
        (("--sarif", "."), "it is a folder"),
        (("--csv", "a", "--json", "a"), "both"),
        (("--vcd", model), "it is not a folder"),
    ):
        done = run(lanyard, "check", model, *options, cwd=scratch)
        expect(done.returncode == 1 and words in done.stderr and not done.stdout, f"{options}: {done.stderr}")


def main():
    lanyard = pathlib.Path(sys.argv[1]).resolve()
    ruled, *models = [pathlib.Path(a).resolve() for a in sys.argv[2:]]
    with tempfile.TemporaryDirectory() as folder:
        scratch = pathlib.Path(folder)
        verdicts = set()
        for model in models:
            verdicts |= {c["verdict"] for c in judge(lanyard, model, scratch)["claims"]}
        verdicts |= {c["verdict"] for c in judge(lanyard, models[0], scratch, "--work", "1")["claims"]}
        expect(verdicts == {"proved", "refuted", "vacuous", "undecided"}, f"only {verdicts} came up")
        result = judge(lanyard, ruled, scratch, "--rules", ruled.parent.name)
        expect(any("rule" in c for c in result["claims"]) and "findings" in result, "no rules were judged, or no wiring")
        judge(lanyard, long_model(models[0], scratch), scratch)
        judge_usage(lanyard, models[0], scratch)
        # A model that is reached by an absolute path, or lies elsewhere, is called by its name.
        run(lanyard, "check", models[0], "--sarif", "else.sarif", cwd=scratch)
        uri = json.loads((scratch / "else.sarif").read_text())["runs"][0]["artifacts"][0]["location"]["uri"]
        expect(uri == models[0].name, f"elsewhere: {uri}")
    print("\n".join(problems) or f"{len(models) + 3} checks, all outputs as they should be")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
