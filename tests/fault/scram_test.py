"""Our fault trees, exported and judged by another program (SCRAM, Debian package `scram`).

scram_test.py FAULT_EXPORT: each tree is read by scram, which checks it against its RELAX NG schema of the Open-PSA
format, and comes to the same minimal cut sets or prime implicants and probability as we do; for coherent trees to the same
importance. (Of some trees that are not coherent, `not A` for one, scram 0.16.2 reports the importance with the wrong
sign: 1 for dP/dp of `not A`. There tests/fault/random_test.cpp compares with the definition.)
"""

import json
import pathlib
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ET

DIGITS = 2e-5  # the report has six digits
# The three-motor tree of the Fault Tree Handbook as the Debian package ships it.
THREE_MOTORS = pathlib.Path("/usr/share/scram/input/ThreeMotor/three_motor.xml")


def close(a, b):
    return abs(a - b) <= DIGITS * max(abs(a), abs(b)) + 1e-12


def judged(model, *options):
    with tempfile.NamedTemporaryFile(suffix=".xml") as report:
        command = ["scram", "--bdd", *options, "--probability", "true", "--importance", "true", "-o", report.name, model]
        done = subprocess.run(command, capture_output=True, text=True, timeout=60)
        if done.returncode:
            raise RuntimeError(f"{model}: {done.stdout}{done.stderr}")
        return ET.parse(report.name).getroot()


def names_of(model):
    """identifier -> label: the label is the name that the event had."""
    return {e.get("name"): e.findtext("label") for e in ET.parse(model).getroot().iter("define-basic-event")}


def products_of(report, names):
    found = set()
    for product in report.iter("product"):
        found.add((frozenset(names[e.get("name")] for e in product.findall("basic-event")),
                   frozenset(names[e.get("name")] for e in product.findall("not/basic-event"))))
    return found


def compare_importance(report, names, ours):
    wrong = []
    events = report.findall(".//importance/basic-event")
    if not events:
        wrong.append("no importance in the report")
    for event in events:
        for key, value in ours["importance"][ours["labels"].index(names[event.get("name")])].items():
            if not close(float(event.get(key)), value):
                wrong.append(f"{key} of {event.get('name')}: {event.get(key)}, ours {value}")
    return wrong


def compare(model, ours):
    names = names_of(model)
    labels = ours["labels"]
    wrong = []
    if sorted(names.values()) != sorted(labels):
        wrong.append(f"labels {sorted(names.values())}, not {sorted(labels)}")
    report = judged(model, *([] if ours["coherent"] else ["--prime-implicants"]))
    expected = {(frozenset(labels[i] for i in p["failed"]), frozenset(labels[i] for i in p["works"]))
                for p in ours["products"]}
    if products_of(report, names) != expected:
        wrong.append(f"products {products_of(report, names)}, ours {expected}")
    probability = float(report.find(".//sum-of-products").get("probability"))
    if not close(probability, ours["probability"]):
        wrong.append(f"probability {probability}, ours {ours['probability']}")
    if ours["coherent"]:
        wrong += compare_importance(report, names, ours)
    return [f"{model.name}: {w}" for w in wrong]


def compare_published(folder):
    """The shape that we gave to the three-motor tree against the published tree itself."""
    theirs = judged(THREE_MOTORS).find(".//sum-of-products")
    mine = judged(folder / "three_motors.xml").find(".//sum-of-products")
    return [f"three motors, {key}: {theirs.get(key)} published, ours {mine.get(key)}"
            for key in ("products", "distribution", "probability", "basic-events") if theirs.get(key) != mine.get(key)]


def main():
    with tempfile.TemporaryDirectory() as scratch:
        folder = pathlib.Path(scratch)
        subprocess.run([sys.argv[1], folder], check=True, timeout=60)
        models = sorted(folder.glob("*.xml"))
        wrong = compare_published(folder)
        for model in models:
            wrong += compare(model, json.loads(model.with_suffix(".json").read_text(encoding="utf-8")))
    if len(models) < 40:
        wrong.append(f"only {len(models)} trees were exported")
    print("\n".join(wrong) or f"{len(models)} trees: scram agrees")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
