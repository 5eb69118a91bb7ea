"""The log: what stands in it, that nothing else changes by it, and where it cannot be written.

log_test.py PATH-OF-LANYARD
"""

import os
import re
import subprocess
import sys
import unittest

from in_folder import LANYARD, InFolder

# One claim of each verdict; a counter and a timer, so that lemmas are searched for; a fed lamp asks the wiring.
CAR = {
    "lanyard": 1,
    "name": "Pump on a key",
    "inputs": {"key": "maintained", "hand": "maintained"},
    "outputs": {"pump": "TON(key, 200 ms) OR hand"},
    "circuit": {
        "parts": {
            "battery": "battery",
            "lights": {"is": "switch", "switch": "maintained"},
            "K1": "relay",
            "lamp": "load",
        },
        "wires": {"w1": "battery - lights - K1.coil - ground", "w2": "battery - K1.make - lamp - ground"},
    },
    "claims": {
        "pump follows": {"whenever": "key", "for": "250 ms", "then": "pump", "within": "50 ms"},
        "pump off with the key": {"always": "NOT key -> NOT pump"},
        "both off, both on": {"always": "key AND NOT key -> pump"},
        "lamp needs lights": {"always": "lamp -> lights"},
        "turn \u202e me": {"possible": "pump"},
    },
}

LINE = re.compile(r"\d\d:\d\d:\d\d\.\d{3} (info |debug|trace) \[\d+\] \S.*")

INFO = [
    r"lanyard \d+\.\d+\.\d+, Z3 \d",
    r"5 claims, \d+ threads",
    r"claim 'pump follows': leap lemma: holds, \d+\.\d{3} s",
    r"claim 'pump follows': bad: asked, with leaps, at most \d+ units",
    r"claim 'pump follows': bad: unreachable, \d+ lemmas, induction \d \(\w+\), \d+\.\d{3} s, \d+ MB",
    r"claim 'pump off with the key': bad: reachable, \d+ scans \(bounded\), ",
    r"claim 'pump off with the key': refuted, \d+\.\d{3} s: finding \d",
    r"claim 'both off, both on': vacuous, ",
    r"time under any: \d+ ways on, one for each state",
]
DEBUG = [
    r"claim 'pump follows': bad: encoded: \d+ state variables, \d+ inputs, \d+ rules, ",
    r"claim 'lamp needs lights': bad: encoded: .*, [1-9]\d* answers of the wiring, ",
    r"claim 'pump follows': bad: bounded: nothing, none within \d+ leaps, up to \d+ units, ",
    r"claim 'pump follows': bad: \w+: an invariant of \d+ lemmas, up to \d+ units, ",
    r"claim 'pump follows': bad: certificate: \d+ of \d+ lemmas kept",
    r"claim 'pump follows': bad: obligation step: holds, ",
    r"claim 'pump follows': what it rests on: \d+ assumptions, ",
    r"claim 'pump off with the key': bad: run derived anew and completed: \d+ leaps, \d+ scans",
]
TRACE = [
    r"bounded: query: (sat|unsat|unknown), \d+ of \d+ units, \d+\.\d{3} s, \d+ assertions and \d+ assumptions",
    r"wiring asked: \S.*, (decided by what switches|open where the world may choose), ",
]


class Log(InFolder):
    indent = 2

    def setUp(self):
        super().setUp()
        self.write("car.json", CAR)

    def run_program(self, *words, code=10, log=None, stdout=subprocess.PIPE):
        env = {k: v for k, v in os.environ.items() if k != "LANYARD_LOG"} | ({"LANYARD_LOG": log} if log else {})
        done = subprocess.run([LANYARD, *words], cwd=self.path, env=env, stdout=stdout, stderr=subprocess.PIPE,
                              text=True, timeout=120, check=False)
        self.assertEqual(done.returncode, code, f"{words}\n{done.stdout}\n{done.stderr}")
        return done

    def lines(self, name="log"):
        """Of the log, each of them whole."""
        text = (self.path / name).read_bytes().decode("utf-8")
        self.assertTrue(text.endswith("\n"))
        for line in text.splitlines():
            self.assertRegex(line, rf"^{LINE.pattern}$")
        return text

    def check_kinds(self, text, there, missing):
        for kind in there:
            self.assertRegex(text, kind)
        for kind in missing:
            self.assertNotRegex(text, kind)

    def test_levels(self):
        self.run_program("check", "car.json", "--log", "log", "--log-level", "info")
        self.check_kinds(self.lines(), INFO, DEBUG + TRACE)
        self.run_program("check", "car.json", "--log", "log")
        self.check_kinds(self.lines(), INFO + DEBUG, TRACE)
        self.run_program("check", "car.json", "--log", "log", "--log-level", "trace", "--jobs", "3")
        self.check_kinds(self.lines(), INFO + DEBUG + TRACE, [])

    def test_nothing_else_changes(self):
        plain = self.run_program("check", "car.json", "--json", "plain.json")
        logged = self.run_program("check", "car.json", "--json", "logged.json", "--log", "log", "--log-level", "trace")
        self.assertEqual((plain.stdout, plain.stderr), (logged.stdout, logged.stderr))
        self.assertEqual((self.path / "plain.json").read_bytes(), (self.path / "logged.json").read_bytes())

    def test_no_text_of_a_model_plays_with_a_terminal(self):
        self.run_program("check", "car.json", "--log", "log")
        text = self.lines()
        self.assertIn("claim 'turn ", text)
        self.assertNotIn("\u202e", text)

    def test_the_environment(self):
        self.run_program("check", "car.json", log="from-environment")
        self.check_kinds(self.lines("from-environment"), INFO + DEBUG, TRACE)
        self.run_program("check", "car.json", "--log", "named", log="not-this")
        self.lines("named")
        self.assertFalse((self.path / "not-this").exists())
        self.run_program("schema", "model", log="not-this", code=0)
        self.assertFalse((self.path / "not-this").exists())
        self.assertEqual(self.run_program("check", "car.json", log="nowhere/log", code=1).stdout, "")

    def test_commands_that_judge(self):
        for words, code in ((("faults", "car.json"), 10), (("mutants", "car.json"), 0), (("needs", "car.json"), 0),
                            (("case", "car.json"), 10)):
            self.run_program(*words, "--log", "log", code=code)
            self.assertRegex(self.lines(), r"claim 'pump follows'.*: unreachable, ")

    def test_where_it_cannot_be_written(self):
        model = (self.path / "car.json").read_bytes()
        (self.path / "folder").mkdir()
        targets = ["nowhere/log", "folder", "car.json"]
        if os.path.exists("/dev/full"):
            targets.append("/dev/full")
        for target in targets:
            done = self.run_program("check", "car.json", "--log", target, code=1)
            self.assertEqual(done.stdout, "")
            self.assertIn(target, done.stderr)
        self.run_program("check", "car.json", "--log", "one", "--json", "one", code=1)
        with open(self.path / "results", "w", encoding="utf-8") as results:
            done = self.run_program("check", "car.json", "--log", "results", code=1, stdout=results)
        self.assertIn("the results go there", done.stderr)
        self.assertEqual((self.path / "results").read_bytes(), b"")
        self.assertEqual((self.path / "car.json").read_bytes(), model)
        self.run_program("check", "car.json", "--log-level", "trace", code=1)
        self.run_program("check", "car.json", "--log", "log", "--log-level", "all", code=1)
        self.assertFalse((self.path / "log").exists())


if __name__ == "__main__":
    unittest.main(argv=[sys.argv[0]])
