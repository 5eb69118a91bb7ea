"""card_test.py LANYARD

The bench card from outside:

  golden    the CSV of demo/car-repaired.json is the one that was looked at (tests/card/golden)
  same      the same bytes with one thread and with two
  size      the cards of the demo cars are short enough to be used, and no reading is expected twice in a step
  page      the HTML is well-formed (xmllint), names of a hostile model stay text, its policy names style and script
  limits    --time ends the whole making of a card, --work ends it at the same point; models that nothing can be shown of
            have no card, at once
  filled    a card that agrees, one with a wrong reading, one with missing ones, one of another model: texts and exits
"""

import csv
import io
import pathlib
import re
import subprocess
import sys
import tempfile
import time
import xml.etree.ElementTree as ET

ROOT = pathlib.Path(__file__).resolve().parents[2]
HERE = pathlib.Path(__file__).resolve().parent
problems = []


def expect(good, text):
    if not good:
        problems.append(text)


def run(lanyard, *arguments):
    return subprocess.run([lanyard, "card", *map(str, arguments)], capture_output=True, timeout=300)


def rows_of(data):
    return list(csv.DictReader(io.StringIO(data.decode(), newline="")))


def text_of(rows):
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, rows[0].keys(), lineterminator="\r\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def agreeing(row):
    time = re.search(r"after ([\d.]+) \.\.", row["expected"])
    return {**row, "reading": time[1] if time else row["expected"]}


def check_golden(lanyard):
    model = ROOT / "demo" / "car-repaired.json"
    done = run(lanyard, model, "--format", "csv", "--jobs", "1")
    expect(done.returncode == 0, f"car-repaired: {done.returncode} {done.stderr.decode()}")
    golden = HERE / "golden" / "car-repaired.csv"
    expect(golden.read_bytes() == done.stdout, f"the card of car-repaired.json is not {golden.name}")
    expect(run(lanyard, model, "--format", "csv", "--jobs", "2").stdout == done.stdout, "two threads, another card")
    return model, rows_of(done.stdout)


def check_size(lanyard):
    for name in ("car", "car-repaired", "wired-car-repaired"):
        rows = rows_of(run(lanyard, ROOT / "demo" / f"{name}.json", "--format", "csv").stdout)
        steps = {r["step"] for r in rows}
        expect(20 < len(steps) < 200, f"{name}: {len(steps)} steps")
        seen = [(r["step"], r["where"], "after" in r["expected"]) for r in rows if r["item"]]
        expect(len(seen) == len(set(seen)), f"{name}: a reading stands twice in a step")
        items = [int(r["item"]) for r in rows if r["item"]]
        expect(items == list(range(1, len(items) + 1)), f"{name}: items are not numbered through")


def check_page(lanyard, folder):
    for model in (ROOT / "demo" / "car-repaired.json", ROOT / "tests" / "page" / "hostile.json"):
        path = folder / "card.html"
        done = run(lanyard, model, "--format", "html", "--out", path)
        expect(done.returncode in (0, 20), f"{model.name}: {done.returncode} {done.stderr.decode()}")
        lint = subprocess.run(["xmllint", "--noout", path], capture_output=True, text=True)
        expect(lint.returncode == 0, f"{model.name}: {lint.stderr[:500]}")
        page = path.read_text(encoding="utf-8")
        root = ET.fromstring(page.removeprefix("<!DOCTYPE html>"))
        expect(len(list(root.iter("script"))) == 1, f"{model.name}: a script that is not ours")
        expect("style-src 'sha256-" in page and "default-src 'none'" in page, f"{model.name}: no policy")
        expect(not re.search(r'\s(on\w+|style|src)="', page), f"{model.name}: something that the policy forbids")
        for table in root.iter("table"):
            expect(table.find("caption") is not None, f"{model.name}: a table without a caption")


def check_limits(lanyard):
    model = ROOT / "demo" / "wired-car-repaired.json"
    began = time.monotonic()
    done = run(lanyard, model, "--time", "1", "--format", "text")
    took = time.monotonic() - began
    expect(done.returncode == 20 and b"the time was up" in done.stdout, f"--time 1: {done.returncode}")
    expect(took < 10, f"--time 1 took {took:.1f} s")  # the machine may have other things to do
    short = run(lanyard, model, "--work", "20000", "--format", "text")
    expect(short.returncode == 20 and b"the work limit was reached" in short.stdout, f"--work: {short.returncode}")
    expect(run(lanyard, model, "--work", "20000", "--jobs", "1").stdout == short.stdout, "--work: another card")
    for name, why in (("undecided/binary-counter", "nothing in this model can be set"),
                      ("undecided/three-blinkers", "nothing in this model can be set"),
                      ("proved/fischer-20-below-30", "there is nothing to look at")):
        began = time.monotonic()
        done = run(lanyard, ROOT / "tests" / "cases" / f"{name}.json")
        expect(done.returncode == 20 and f"There is no bench card: {why}" in done.stdout.decode(), f"{name}: {done}")
        expect(time.monotonic() - began < 10, f"{name}: it took long to find nothing")


def check_filled(lanyard, folder, model, rows):
    def check(rows, text=None):
        path = folder / "filled.csv"
        path.write_bytes((text or text_of(rows)).encode())
        return run(lanyard, model, "--check", path)

    full = [agreeing(r) for r in rows]
    done = check(full)
    expect(done.returncode == 0 and b"0 disagree; 0 missing" in done.stdout, f"agreeing: {done.returncode} {done.stdout[-300:]}")
    done = check(full[::-1])
    expect(done.returncode == 0, "sorted the other way round it is the same card")
    wrong = next(i for i, r in enumerate(full) if r["where"] == "starter" and r["expected"] == "on")
    turned = [{**r, "reading": "off"} if i == wrong else r for i, r in enumerate(full)]
    done = check(turned)
    expect(done.returncode == 10, f"one wrong reading: {done.returncode}")
    out = done.stdout.decode()
    for part in ("DISAGREES", "C3 starter", "no crank before the button", "starter lets go"):
        expect(part in out, f"one wrong reading: no {part!r} in\n{out}")
    expect("radiator fan does not chatter" not in out, "a claim that does not depend on the starter")
    done = check([{**r, "reading": ""} if i == wrong else r for i, r in enumerate(full)])
    expect(done.returncode == 20 and b"1 missing" in done.stdout, f"one missing: {done.returncode}")
    done = check([{**r, "model": "0123456789ab"} for r in full])
    expect(done.returncode == 2 and done.stderr.count(b"another model") > 50, f"another model: {done.returncode}")
    done = check([], "nonsense\n")
    expect(done.returncode == 2 and b"filled.csv:1:1: error:" in done.stderr, f"nonsense: {done.stderr[:200]}")
    done = run(lanyard, model, "--check", folder / "nowhere.csv")
    expect(done.returncode == 1, f"a file that is not there: {done.returncode}")
    done = run(lanyard, model, "--check", folder / "filled.csv", "--format", "csv")
    expect(done.returncode == 1, f"--check with --format: {done.returncode}")


def main():
    lanyard = sys.argv[1]
    model, rows = check_golden(lanyard)
    check_size(lanyard)
    check_limits(lanyard)
    with tempfile.TemporaryDirectory() as name:
        check_page(lanyard, pathlib.Path(name))
        check_filled(lanyard, pathlib.Path(name), model, rows)
    print("\n".join(problems) or "the card is as it should be")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
