"""The program from outside: exit codes, files that are written whole or not at all, and texts that can be compared.

program_test.py PATH-OF-LANYARD
"""

import json
import pathlib
import signal
import subprocess
import sys
import time
import unittest

from in_folder import LANYARD, InFolder

import jsonschema


PUMP = {
    "lanyard": 1,
    "name": "Pump on a switch",
    "inputs": {"key": "maintained", "hand": "maintained"},
    "outputs": {"pump": "key OR hand"},
    "claims": {
        "pump follows": {"always": "key -> pump"},
        "pump off with the key": {"always": "NOT key -> NOT pump"},
        "pump can run": {"possible": "pump", "under": "any"},
        "both off, both on": {"always": "key AND NOT key -> pump"},
    },
}
VERDICTS = {
    "pump follows": "proved",
    "pump off with the key": "refuted",
    "pump can run": "proved",
    "both off, both on": "vacuous",
}


class Program(InFolder):
    indent = 2

    def setUp(self):
        super().setUp()
        self.write("pump.json", PUMP)

    def run_program(self, *words, code=0):
        done = subprocess.run(
            [LANYARD, *words], cwd=self.path, capture_output=True, text=True, timeout=120, check=False
        )
        self.assertEqual(done.returncode, code, f"{words}\n{done.stdout}\n{done.stderr}")
        return done

    def test_versions_and_help(self):
        self.assertRegex(self.run_program("--version").stdout, r"^lanyard \d+\.\d+\.\d+, Z3 \d")
        self.assertIn("Topics", self.run_program("help").stdout)
        self.assertIn("one of", self.run_program("check", "--help").stdout.lower())
        for name, words in [("claims", "Which one to take"), ("rules", "Playing roles")]:
            topic = self.run_program("help", name).stdout
            self.assertIn(words, topic)
            self.assertIn(f"lanyard {name} --help", topic)
            self.assertNotIn(words, self.run_program(name, "--help").stdout)
        self.assertIn("did you mean units?", self.run_program("help", "unitz", code=1).stderr)

    def test_verdicts_and_exit_codes(self):
        done = self.run_program("check", "pump.json", "--json", "out.json", code=10)
        first = done.stdout.split("\n\n")[0]
        result = json.loads((self.path / "out.json").read_text(encoding="utf-8"))
        self.assertIn("Pump on a switch", first)
        self.assertIn("10 ms", first)
        self.assertEqual({c["id"]: c["verdict"] for c in result["claims"]}, VERDICTS)
        self.run_program("check", "pump.json", "--claim", "pump follows", "--claim", "pump can run", code=0)
        self.run_program("check", "pump.json", "--claim", "both off, both on", code=10)

    def test_findings_in_the_wiring(self):
        circuit = {
            "parts": {"battery": "battery", "F1": {"is": "fuse", "rating": "30 A"}, "lamp": "load"},
            "wires": {"W1": {"path": "battery - F1 - lamp - ground", "size": "18 AWG"}},
        }
        model = {"lanyard": 1, "name": "lamp", "circuit": circuit, "claims": {"c": {"possible": "lamp"}}}
        self.write("lamp.json", model)
        alone = self.run_program("findings", "lamp.json").stdout
        self.assertIn("\nFound in the wiring\n", alone)
        self.assertIn("[fuse-above-wire]", alone)
        checked = self.run_program("check", "lamp.json", "--json", "lamp.result.json").stdout
        self.assertIn(alone.split("\n\n", 1)[1].strip(), checked)
        result = json.loads((self.path / "lamp.result.json").read_text(encoding="utf-8"))
        self.assertEqual([f["code"] for f in result["findings"]], ["fuse-above-wire"])
        self.assertIn("No mistakes were found", self.run_program("findings", "pump.json").stdout)
        self.assertNotIn("wiring", self.run_program("check", "pump.json", code=10).stdout)

    def test_nothing_but_the_text_on_a_pipe(self):
        one = self.run_program("check", "pump.json", "--jobs", "1", code=10)
        two = self.run_program("check", "pump.json", "--jobs", "2", code=10)
        self.assertEqual(one.stdout, two.stdout)  # no times, no order of finishing
        self.assertNotIn("\x1b", one.stdout)
        self.assertEqual(one.stderr, "")
        self.assertIn("\x1b[", self.run_program("check", "pump.json", "--color", "always", code=10).stdout)

    def test_same_bytes_each_time(self):
        for name, jobs in (("a", "1"), ("b", "2")):
            self.run_program("check", "pump.json", "--jobs", jobs, "--json", name + ".json", "--evidence", name, code=10)
        self.assertEqual((self.path / "a.json").read_bytes(), (self.path / "b.json").read_bytes())
        files = sorted(p.relative_to(self.path / "a") for p in (self.path / "a").rglob("*") if p.is_file())
        self.assertTrue(files)
        self.assertEqual(files, sorted(p.relative_to(self.path / "b") for p in (self.path / "b").rglob("*") if p.is_file()))
        for file in files:
            self.assertEqual((self.path / "a" / file).read_bytes(), (self.path / "b" / file).read_bytes(), file)

    def test_what_was_found_is_kept(self):
        def check(*words, code=10):
            return self.run_program("check", "pump.json", "--json", "r.json", *words, code=code)

        results = []
        for words in ((), ("--keep", "found.json"), ("--keep", "found.json"), ("--keep", "found.json", "--jobs", "1")):
            text = check(*words).stdout
            results.append((text, (self.path / "r.json").read_bytes()))
        self.assertEqual(results[1:], [results[0]] * 3)
        kept = (self.path / "found.json").read_text(encoding="utf-8")
        self.run_program("case", "pump.json", "--keep", "found.json", code=10)
        self.assertEqual((self.path / "found.json").read_text(encoding="utf-8"), kept)
        # Of another state of the model: begun anew, as nothing of it can be asked for.
        self.write("other.json", {**PUMP, "name": "Another"})
        self.run_program("check", "other.json", "--keep", "found.json", code=10)
        self.assertNotEqual((self.path / "found.json").read_text(encoding="utf-8"), kept)
        # What is no such file, or was changed, is refused and left alone.
        for name, text, said in [
            ("changed.json", kept.replace('"depth": ', '"depth": 1', 1), r"changed\.json:\d+:\d+: error: this file was changed since"),
            ("half.json", kept[: len(kept) // 2], r"half\.json:\d+:\d+: error: .*\[json-syntax\]"),
            ("model.json", json.dumps(PUMP), r"model\.json:1:1: error: --keep did not write this file .*\[kept-form\]"),
        ]:
            if text is not None:
                self.write(name, text)
            before = (self.path / name).read_bytes()
            done = check("--keep", name, code=2)
            self.assertRegex(done.stderr, said)
            self.assertEqual((self.path / name).read_bytes(), before)

    def test_usage(self):
        self.assertIn("did you mean", self.run_program("check", "pump.json", "--claim", "pump folows", code=1).stderr)
        self.run_program(code=1)
        self.run_program("check", code=1)
        self.run_program("check", "nowhere.json", code=1)
        self.run_program("check", "pump.json", "--prover", "steam", code=1)
        self.assertEqual(self.run_program("check", "pump.json", "--engine", "pdr", code=1).stderr,
                         "lanyard: unknown option --engine\n  did you mean --prover?\n")
        self.run_program("check", "pump.json", "--json", "nowhere/out.json", code=1)
        self.write("silent.json", {**PUMP, "claims": {}})
        self.run_program("check", "silent.json", code=1)

    def test_a_rejected_model(self):
        self.write("bad.json", '{\n  "lanyard": 1,\n  "name": "x",\n  "outputs": { "pump": "kye" }\n}\n')
        done = self.run_program("check", "bad.json", "--json", "out.json", code=2)
        self.assertRegex(done.stderr, r"(?m)^bad\.json:4:\d+: error: .*\[[a-z-]+\]$")
        self.assertEqual(done.stdout, "")
        self.assertFalse((self.path / "out.json").exists())

    def test_output_that_cannot_be_written(self):
        with open("/dev/full", "w", encoding="utf-8") as full:
            done = subprocess.run(
                [LANYARD, "help"], stdout=full, stderr=subprocess.PIPE, text=True, timeout=60, check=False
            )
        self.assertEqual(done.returncode, 1)
        (self.path / "folder").mkdir()
        self.run_program("check", "pump.json", "--json", "folder", code=1)

    def test_schemas_are_json(self):
        for which in ("model", "result", "rules", "faults", "why", "mutants", "needs"):
            self.assertIn("properties", json.loads(self.run_program("schema", which).stdout))

    def test_results_obey_their_schemas(self):
        sensed = {
            **PUMP,
            "inputs": {**PUMP["inputs"], "oil": {"senses": "oil_pressure", "accuracy": "0.5 psi"}},
            "logic": {"low": "oil < 15 psi"},
            "outputs": {"pump": "key OR hand", "warn": "low"},
            "claims": {**PUMP["claims"], "warns": {"always": "oil_pressure < 14 psi -> warn", "under": "any"}},
        }
        self.write("sensed.json", sensed)
        for which, code, words in [
            ("result", 10, ("check", "pump.json")),
            ("result", 10, ("check", "sensed.json", "--counterexamples", "2")),
            ("faults", None, ("faults", "sensed.json")),
            ("why", 0, ("why", "pump.json", "pump", "--claim", "pump off with the key")),
            ("mutants", 0, ("mutants", "sensed.json")),
            ("needs", 0, ("needs", "sensed.json")),
        ]:
            done = subprocess.run(
                [LANYARD, *words, "--json", "out.json"], cwd=self.path, capture_output=True, timeout=120, check=False
            )
            if code is not None:
                self.assertEqual(done.returncode, code, done.stderr)
            schema = json.loads(self.run_program("schema", which).stdout)
            jsonschema.Draft7Validator.check_schema(schema)
            written = json.loads((self.path / "out.json").read_text(encoding="utf-8"))
            jsonschema.validate(written, schema)
            with self.assertRaises(jsonschema.ValidationError):
                jsonschema.validate({**written, "nothing": 1}, schema)

    def test_claims(self):
        words = {"never on together": {"never_both": ["pump", "hand"], "under": "NOT key"}}
        self.write("words.json", {**PUMP, "claims": {**PUMP["claims"], **words}})
        text = self.run_program("claims", "words.json").stdout
        for name in (*PUMP["claims"], *words):
            self.assertIn(f"\n{name}\n", text)
        self.assertIn('"always": "key -> pump"', text)
        one = self.run_program("claims", "words.json", "--claim", "never on together", "--out", "one.txt")
        self.assertEqual(one.stdout, "")
        one = (self.path / "one.txt").read_text(encoding="utf-8")
        self.assertIn('{ "never_both": ["pump", "hand"], "under": "NOT key" }', " ".join(one.split()))
        self.assertIn("NOT 2 of (pump, hand)", one)
        self.assertIn("always, under NOT key", one)
        self.assertNotIn("pump follows", one)
        self.assertIn("did you mean", self.run_program("claims", "words.json", "--claim", "pump folows", code=1).stderr)
        self.run_program("claims", "nowhere.json", code=1)

    def write_pack(self):
        (self.path / "yard").mkdir(exist_ok=True)
        roles = {"ignition": "expression", "lift_pump": "load", "horn": "output"}
        self.write(
            "yard/pack.json",
            {
                "lanyard_rules": 1,
                "title": "Yard",
                "publisher": "the yard",
                "edition": "first",
                "text_read": "memory",
                "scope": "all",
                "roles": {name: {"kind": kind, "meaning": name} for name, kind in roles.items()},
                "rules": {
                    "off": {
                        "requires": "off with the key",
                        "citation": "page 1",
                        "roles": ["ignition", "lift_pump"],
                        "claims": {"off": {"always": "NOT ignition -> NOT lift_pump"}},
                        "advice": "take the hand out",
                    },
                    "horn": {
                        "requires": "a horn",
                        "citation": "page 2",
                        "roles": ["horn"],
                        "claims": {"can": {"possible": "horn"}},
                    },
                },
            },
        )
        played = {**PUMP, "roles": {"ignition": "key", "lift_pump": "pump"}}
        self.write("played.json", played)
        self.write("unplayed.json", {k: v for k, v in PUMP.items() if k != "claims"})

    def test_rules(self):
        self.write_pack()
        done = self.run_program("check", "played.json", "--rules", "./yard", "--rules-only", "--json", "r.json", code=10)
        for text in ("REFUTED    yard/off: off", "written in    page 1; from memory", "advice        take the hand out",
                     "does not apply   yard/horn: nothing plays horn (perhaps pump)", "1 claim: 1 refuted"):
            self.assertIn(text, done.stdout)
        result = json.loads((self.path / "r.json").read_text(encoding="utf-8"))
        self.assertEqual([c["rule"] for c in result["claims"]], ["yard/off"])
        self.assertEqual(result["rules"]["rules"][1]["missing"], [{"role": "horn", "candidates": ["pump"]}])
        jsonschema.validate(result, json.loads(self.run_program("schema", "result").stdout))
        self.run_program("check", "played.json", "--rules", "yard/pack.json", "--claim", "yard/off: off", code=10)
        self.run_program("check", "played.json", "--rules", "yard/pack.json", "--claim", "pump follows", code=0)
        self.assertIn("HORN", self.run_program("export", "played.json", "--claim", "yard/off: off", "--rules", "./yard").stdout)

    def test_rules_that_cannot_be_judged(self):
        self.write_pack()
        done = self.run_program("check", "unplayed.json", "--rules", "./yard", "--rules-only", code=1)
        self.assertIn("nothing plays ignition", done.stdout)
        self.assertIn("no rule applies", done.stderr)
        self.run_program("check", "unplayed.json", "--rules", "./yard", code=1)
        self.run_program("check", "pump.json", "--rules-only", code=1)
        self.run_program("check", "played.json", "--rules", "./yard", "--rules-only", "--claim", "pump follows", code=1)
        self.assertIn("chosen twice", self.run_program("check", "pump.json", "--rules", "./yard,./yard", code=1).stderr)
        self.assertIn("no rule pack", self.run_program("check", "pump.json", "--rules", "yard-rules", code=1).stderr)
        self.run_program("check", "pump.json", "--rules", "./nowhere", code=1)
        self.write("yard/pack.json", "{}")
        self.assertIn("[missing-key]", self.run_program("check", "pump.json", "--rules", "./yard", code=2).stderr)

    def test_rules_are_listed_and_explained(self):
        self.write_pack()
        known = [line for line in self.run_program("rules").stdout.splitlines() if line and line[0] != " "]
        self.assertGreater(len(known), 1)
        for pack in known[:-1]:
            self.assertIn(pack + "/", self.run_program("rules", pack).stdout)
        text = self.run_program("rules", "./yard").stdout
        for word in ("off with the key", "page 2", "lift_pump (load)", "possible: horn", "take the hand out"):
            self.assertIn(word, text)
        self.assertIn("there is no rule pack", self.run_program("rules", "x", code=1).stderr)

    def test_why(self):
        self.write("press.csv", "time,key,hand\n0,,\n0.5,on,\n1,,on\n1.5,off,\n2,,off\n3,,\n")
        text = self.run_program("why", "pump.json", "pump", "--run", "press.csv", "--at", "2.5 s", "--json", "w.json").stdout
        self.assertIn("pump off at 2.50 s (scan 250), since 2.00 s\n", text)
        self.assertIn("first out     2.00 s  hand off at 2.00 s\n", text)  # the key went before, without effect
        why = json.loads((self.path / "w.json").read_text(encoding="utf-8"))
        self.assertEqual([f["time_s"] for f in why["first_out"]], ["2"])
        # The run of a claim: judged for it, from its results, from its evidence.
        claim = ("--claim", "pump off with the key")
        judged = self.run_program("why", "pump.json", "pump", *claim).stdout
        self.assertIn("held on by    hand on", judged)
        self.run_program("check", "pump.json", "--json", "out.json", "--evidence", "out", code=10)
        self.assertEqual(judged, self.run_program("why", "pump.json", "pump", *claim, "--run", "out.json").stdout)
        run = next((self.path / "out").glob("*/run.json"))
        self.assertEqual(judged, self.run_program("why", "pump.json", "pump", "--run", str(run)).stdout)
        for words, code, said in [
            (("pump", "--run", "out.json"), 2, "runs of several claims"),
            (("pumpe", "--run", "press.csv"), 2, 'did you mean "pump"?'),
            (("pump", "--run", "press.csv", "--at", "9 s"), 2, "over by 9 s"),
            (("pump", "--run", "press.csv", "--at", "-1 s"), 2, "before the run begins"),
            (("pump", "--run", "press.csv", "--at", "2 psi"), 2, "--at:1:"),
            (("pump",), 1, "no run given"),
            (("pump", "--run", "nowhere.json"), 1, "cannot be read"),
            (("pump", "--claim", "pump folows"), 1, "did you mean"),
            (("pump", "--claim", "both off, both on"), 2, "there is no run of the claim"),
        ]:
            self.assertIn(said, self.run_program("why", "pump.json", *words, code=code).stderr)

    def test_causes(self):
        done = self.run_program("check", "pump.json", "--claim", "pump off with the key", "--json", "c.json", code=10)
        self.assertIn("hand on *", done.stdout)
        self.assertIn("this is why * hand on at 0.00 s: if it had been off, the claim would not be violated",
                      " ".join(done.stdout.split()))
        causes = json.loads((self.path / "c.json").read_text(encoding="utf-8"))["claims"][0]["causes"]
        self.assertTrue(causes["complete"])
        self.assertEqual([p["signal"] for c in causes["list"] for p in c["parts"]], ["hand"])
        two = {**PUMP, "outputs": {"pump": "key", "lamp": "key OR hand"}, "claims": {"dark": {"always": "NOT lamp"}}}
        self.write("two.json", two)
        done = self.run_program("check", "two.json", "--counterexamples", "3", "--json", "c.json", code=10)
        self.assertEqual(done.stdout.count("another run"), 1)  # there are two ways to light it
        result = json.loads((self.path / "c.json").read_text(encoding="utf-8"))
        self.assertEqual(len(result["claims"][0]["others"]), 1)
        self.run_program("check", "two.json", "--counterexamples", "21", code=1)
        shown = self.run_program("check", "pump.json", "--claim", "pump follows", "--examples").stdout
        self.assertRegex(shown, r"(?m)^  0\.01 s +key on +pump on$")
        jsonschema.validate(result, json.loads(self.run_program("schema", "result").stdout))

    def test_mutants(self):
        done = self.run_program("mutants", "pump.json", "--json", "m.json", "--jobs", "2")
        self.assertIn("judged by     pump follows, pump can run\n", done.stdout)
        self.assertEqual(done.stdout, self.run_program("mutants", "pump.json", "--jobs", "1").stdout)
        mutants = json.loads((self.path / "m.json").read_text(encoding="utf-8"))
        fates = {m["what"]: m["fate"] for m in mutants["mutants"]}
        # key OR hand, of which "key -> pump" and "pump can run" are known
        self.assertEqual(
            fates,
            {
                "stuck on": "survived",
                "stuck off": "killed",
                "AND instead of OR in `key OR hand`": "killed",
                "`key` left out": "killed",
                "`hand` left out": "survived",
                "`key` negated": "killed",
                "`hand` negated": "survived",
            },
        )
        self.assertIn("did you mean", self.run_program("mutants", "pump.json", "--claim", "pump folows", code=1).stderr)
        self.run_program("mutants", "pump.json", "--claim", "pump off with the key", code=1)  # refuted: judges nothing

    def test_export(self):
        text = self.run_program("export", "pump.json", "--claim", "pump follows", "--export", "horn").stdout
        self.assertIn("HORN", text)
        self.run_program("export", "pump.json", "--claim", "pump follows", "--out", "h.smt2")
        self.assertEqual((self.path / "h.smt2").read_text(encoding="utf-8"), text)

    def test_completion_is_accepted_by_bash(self):
        script = self.run_program("completion", "bash").stdout
        asked = script + '\nCOMP_WORDS=(lanyard check --js); COMP_CWORD=2; _lanyard; echo "${COMPREPLY[@]}"\n'
        done = subprocess.run(["bash", "-c", asked], capture_output=True, text=True, timeout=60, check=False)
        self.assertEqual((done.stdout, done.stderr), ("--json\n", ""))

    @staticmethod
    def catches(pid, number):
        """Linux: the mask SigCgt of proc(5)."""
        status = pathlib.Path(f"/proc/{pid}/status").read_text(encoding="ascii", errors="replace")
        masks = [line.split()[1] for line in status.splitlines() if line.startswith("SigCgt:")]
        return bool(masks) and int(masks[0], 16) >> (number - 1) & 1

    def test_interrupt(self):
        """Whenever the signal comes: either all was decided by then, or the end is 130 - never a false success."""
        outputs = {f"o{i}": f"TON(key, {i + 2} s) OR TP(hand, {i + 3} s)" for i in range(12)}
        everything = " AND ".join(outputs)
        self.write(
            "long.json",
            {
                **PUMP,
                "outputs": outputs,
                "claims": {f"c{i}": {"always": f"NOT ({everything} AND TOF(hand, {i + 5} s))"} for i in range(8)},
            },
        )
        child = subprocess.Popen(
            [LANYARD, "check", "long.json"], cwd=self.path, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
        )
        while not self.catches(child.pid, signal.SIGINT) and child.poll() is None:
            time.sleep(0.01)
        time.sleep(0.3)
        child.send_signal(signal.SIGINT)
        out, err = child.communicate(timeout=120)
        if child.returncode == 130:
            self.assertIn("interrupted", out)
        else:
            self.assertIn(child.returncode, (0, 10, 20), err)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
