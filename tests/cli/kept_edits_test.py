#!/usr/bin/env python3
"""What is kept of one state of a model, and used for another.

kept_edits_test.py PATH-OF-LANYARD

The cases of tests/cases come as twins, one with a mistake and one repaired, with the verdicts that each has to have. What
was kept of the one is given to the check of the other: no proof, no lemma and no run of the wrong car may count.
"""
import json
import os
import pathlib
import subprocess
import sys
import unittest

from in_folder import LANYARD, InFolder

CASES = pathlib.Path(__file__).resolve().parents[1] / "cases"

CAR = {
    "lanyard": 1, "name": "Edited",
    "quantities": {"oil": {"range": "0 .. 8 bar", "healthy": "2 .. 6 bar"}},
    "inputs": {"key": "maintained", "reset": "momentary", "gauge": {"senses": "oil", "accuracy": "0.1 bar"}},
    "logic": {"low": "TON(key AND gauge < 1.2 bar, 0.5 s)", "tripped": "SR(low, reset AND NOT key)"},
    "outputs": {"injectors": "key AND NOT tripped"},
    "claims": {
        "cuts": {"whenever": "key AND oil < 1 bar", "then": "NOT injectors", "within": "0.6 s"},
        "holds": {"always": "NOT injectors OR key"},
        "comes back": {"possible": "injectors AND TON(key, 2 s)"},
    },
}


def edited(old, new):
    return json.loads(json.dumps(CAR).replace(old, new))


class Kept(InFolder):
    def verdicts(self, model, *words, codes=(0, 10, 20)):
        self.outputs("check", str(model), "--json", "r.json", *words, codes=codes, timeout=300)
        return {c["id"]: c["verdict"] for c in json.loads((self.path / "r.json").read_text())["claims"]}

    def test_twins_believe_nothing_of_each_other(self):
        twins = [(CASES / "refuted" / right.name.replace("-repaired", ""), right)
                 for right in sorted(CASES.glob("proved/*-repaired.json")) if right.stat().st_size < 2500]
        twins = [pair for pair in twins if pair[0].exists()]
        self.assertGreater(len(twins), 10)
        for pair in twins[:8]:
            for first, then in (pair, pair[::-1]):
                with self.subTest(first=first.stem, then=then.stem):
                    self.write("m.json", first.read_bytes())
                    (self.path / "k.json").unlink(missing_ok=True)
                    self.verdicts("m.json", "--keep", "k.json")
                    self.write("m.json", then.read_bytes())
                    expected = json.loads(then.with_suffix(".expect.json").read_text())["claims"]
                    found = self.verdicts("m.json", "--keep", "k.json")
                    self.assertEqual({name: found[name] for name in expected}, expected)

    def test_a_threshold_is_edited(self):
        self.write("m.json", CAR)
        plain = self.verdicts("m.json", "--keep", "k.json")
        self.assertEqual(set(plain.values()), {"proved"})
        for old, new, cuts in (("1.2 bar", "1.3 bar", "proved"), ("1.2 bar", "1.1 bar", "proved"),
                               ("1.2 bar", "1.0 bar", "refuted"), ("0.5 s", "0.4 s", "proved"),
                               ("0.5 s", "0.7 s", "refuted"), ("1.2 bar", "1.25 bar", "proved")):
            with self.subTest(new=new):
                self.write("m.json", edited(old, new))
                log = self.path / "log.txt"
                found = self.verdicts("m.json", "--keep", "k.json", "--log", str(log))
                self.assertEqual(found, {**plain, "cuts": cuts})
                self.assertIn("to another state of the model checked anew: it holds", log.read_text())

    def test_fresh_looks_at_nothing(self):
        self.write("m.json", CAR)
        cold, _ = self.outputs("check", "m.json")
        self.write("m.json", edited("1.2 bar", "1.3 bar"))
        self.outputs("check", "m.json", "--keep", "k.json")
        self.write("m.json", CAR)
        log = self.path / "log.txt"
        fresh, _ = self.outputs("check", "m.json", "--keep", "k.json", "--fresh", "--log", str(log))
        self.assertEqual(fresh, cold)
        self.assertNotIn("kept", log.read_text().replace("kept as inductive", "").replace("lemmas kept", ""))
        self.outputs("check", "m.json", "--keep", "k.json", "--log", str(log))
        self.assertIn("checked anew: it holds", log.read_text())
        self.write("no.json", "{}")
        self.outputs("check", "m.json", "--keep", "no.json", "--fresh", codes=(2,))
        _, error = self.outputs("check", "m.json", "--fresh", codes=(1,))
        self.assertEqual(error, "lanyard: --fresh without a kept file\n"
                                "  give --keep FILE too, or set LANYARD_KEEP\n")

    def test_a_folder_in_the_environment(self):
        self.write("m.json", CAR)
        (self.path / "other").mkdir()
        self.write("other/m.json", CAR)

        def check(model, folder, *words):
            done = subprocess.run([LANYARD, "check", model, *words], cwd=self.path, capture_output=True, text=True,
                                  env={**os.environ, "LANYARD_KEEP": str(folder)}, check=False, timeout=60)
            return done.returncode, done.stdout, done.stderr

        plain, _ = self.outputs("check", "m.json")
        for model in ("m.json", "./m.json", str(self.path / "m.json"), "m.json"):
            code, text, error = check(model, self.path / "kept" / "here")
            self.assertEqual((code, text.replace(model, "m.json"), error), (0, plain, ""))
        self.assertEqual(len(list((self.path / "kept" / "here").glob("m-*.json"))), 1)
        check("other/m.json", self.path / "kept" / "here")
        self.assertEqual(len(list((self.path / "kept" / "here").glob("m-*.json"))), 2)
        check("m.json", self.path / "unused", "--keep", "own.json")
        self.assertFalse((self.path / "unused").exists())
        code, _, error = check("m.json", self.path / "m.json")
        self.assertEqual(code, 1)
        self.assertIn("which is no folder and cannot be made one", error)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1], verbosity=2)
