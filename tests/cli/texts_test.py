"""Texts of the program, whole: what is said has to be as true as the verdict.

texts_test.py PATH-OF-LANYARD
"""

import csv
import json
import pathlib
import re
import subprocess
import sys
import unittest

from in_folder import LANYARD, InFolder

ROOT = pathlib.Path(__file__).resolve().parents[2]

LAMP = {
    "lanyard": 1,
    "name": "Lamp on a switch",
    "circuit": {
        "parts": {"battery": "battery", "F1": "fuse", "sw": {"is": "switch", "switch": "maintained"}, "lamp": "load"},
        "wires": {"W1": "battery - F1 - sw - lamp - ground"},
    },
    "faults": {"any wire.open": "never", "any wire.to_ground": "never"},
    "claims": {"off": {"whenever": "NOT sw", "then": "NOT lamp", "within": "50 ms"}},
}
CLOSING = "What these verdicts promise and what they do not: SAFETY.md\n"


class Texts(InFolder):
    def run_program(self, *words, code=0):
        return self.outputs(*words, codes=(code,), timeout=300)

    def without_heading(self, text):
        return text[text.index("\n\n") + 1:]

    def test_no_use_was_played(self):
        self.write("lamp.json", LAMP)
        text, _ = self.run_program("faults", "lamp.json", "--csv", "faults.csv", "--json", "faults.json", code=10)
        self.assertEqual(self.without_heading(text), """
  off  fails with sw.stuck_on, W1.3.to_battery

Which faults show in use is not known: no run of the car in use was played, as
none of these claims is a procedure or says that something is possible, and
holds.

10 faults asked about
""" + CLOSING)
        shows = {f["fault"]: f["shows"] for f in json.loads((self.path / "faults.json").read_text())["faults"]}
        self.assertEqual(shows["sw.stuck_on"], "on a bench, use was not played")
        self.assertIn(",sw.stuck_on,", (self.path / "faults.csv").read_text())
        self.assertIn('"on a bench, use was not played"', (self.path / "faults.csv").read_text())

    def test_what_was_played_as_use(self):
        self.write("lamp.json", {**LAMP, "claims": {**LAMP["claims"], "it lights": {"possible": "lamp"}}})
        text, _ = self.run_program("faults", "lamp.json", code=10)
        self.assertEqual(self.without_heading(text), """
  off        fails with sw.stuck_on, W1.3.to_battery
  it lights  fails with sw.stuck_off, F1.open, lamp.open

Played as the car in use: the example of `it lights`.

Nobody notices these in that use, until the part is needed
  off: sw.stuck_on, W1.3.to_battery

10 faults asked about
""" + CLOSING)

    def test_a_named_condition_is_told_with_its_faults(self):
        conditions = {
            "whole": {"holds": "sw"},
            "broken": {"holds": "sw", "faults": {"of": ["lamp", "any fuse.open"]}},
            "worse": {"holds": "sw", "faults": {"of": ["F1.open"], "at_most": 2, "from_the_start": True}},
        }
        claims = {name: {"always": "lamp", "under": name} for name in conditions}
        claims["back"] = {"recoverable": "lamp", "reached_under": "broken", "under": "whole"}
        self.write("lamp.json", {**LAMP, "conditions": conditions, "claims": claims})
        text, _ = self.run_program("claims", "lamp.json")
        joined = re.sub(r"\n {14}(?!at every|from |whenever)", " ", text)  # a line that goes on
        said = re.findall(r"(?m)^(?:  stands for  |              )((?:always|recoverable|from states).*)$", joined)
        self.assertEqual(said, [
            "always, under whole: any, sw",
            "always, under broken: any, sw, one fault of lamp, any fuse.open",
            "always, under worse: any, sw, up to 2 faults of F1.open from the start",
            "recoverable, under whole: any, sw",
            "from states reached under broken: any, sw, one fault of lamp, any fuse.open",
        ])
        text, _ = self.run_program("check", "lamp.json", code=10)
        under = re.findall(r"(?m)^  (under  .*|reached under.*)$", text)
        self.assertEqual(sorted(set(" ".join(u.split()) for u in under)), sorted([
            "under whole: any, sw",
            "under broken: any, sw, one fault of lamp, any fuse.open",
            "under worse: any, sw, up to 2 faults of F1.open from the start",
            "reached under broken: any, sw, one fault of lamp, any fuse.open",
        ]))

    def test_headlines_are_statements(self):
        model = {
            "lanyard": 1, "name": "Pump",
            "inputs": {"key": "maintained", "oil": {"senses": "oil_pressure"}},
            "outputs": {"pump": "key", "fans": "TRUE"},
            "claims": {
                "waits for oil": {"stays_off_until": "oil_pressure > 1 bar", "load": "pump"},
                "waits for the key": {"stays_off_until": "key", "load": "fans"},
                "primes": {"primes_for_at_most": "2 s", "load": "pump", "while": "oil_pressure < 1 bar"},
                "not for long": {"always": "NOT TON(pump, 1 s)"},
            },
        }
        self.write("pump.json", model)
        self.run_program("check", "pump.json", "--csv", "verdicts.csv", code=10)
        with (self.path / "verdicts.csv").open(encoding="utf-8-sig") as file:
            lines = [(row["claim"], row["summary"]) for row in csv.DictReader(file)]
        self.assertEqual(lines, [
            ("waits for oil", "pump is on before oil_pressure is above 1 bar, seen at 0.00 s"),
            ("waits for the key", "the fans are on before key is on, seen at 0.00 s"),
            ("primes", "pump is on for longer than 2 s while oil_pressure is below 1 bar, seen at 2.00 s"),
            ("not for long", "pump is on for longer than 1 s at 1.00 s"),
        ])

    def test_tables_for_spreadsheets(self):
        self.write("lamp.json", {**LAMP, "inputs": {"oil": {"senses": "oil_pressure"}}, "outputs": {"low": "oil < 1.5 bar"}})
        script = "time;sw;oil_pressure [bar]\r\n0;on;1,25\r\n0,02;off;\r\n"
        self.write("start.csv", b"\xef\xbb\xbf" + script.encode())
        text, _ = self.run_program("run", "lamp.json", "--script", "start.csv", "--format", "csv")
        self.assertEqual(text.splitlines()[:3], ["time [s],oil_pressure [bar],oil [bar],low,sw,lamp,powered",
                                                 "0,1.25,1.25,1,1,1,1", "0.01,1.25,1.25,1,1,1,1"])
        text, _ = self.run_program("run", "lamp.json", "--script", "start.csv", "--format", "csv", "--csv-separator",
                                   "semicolon")
        self.assertEqual(text.splitlines()[:3], ["\ufefftime [s];oil_pressure [bar];oil [bar];low;sw;lamp;powered",
                                                 "0;1,25;1,25;1;1;1;1", "0,01;1,25;1,25;1;1;1;1"])
        self.run_program("card", "lamp.json", "--format", "csv", "--csv-separator", "semicolon", "--out", "card.csv")
        self.assertTrue((self.path / "card.csv").read_bytes().startswith(b"\xef\xbb\xbfmodel;item;step;"))
        text, _ = self.run_program("card", "lamp.json", "--check", "card.csv", code=20)
        self.assertRegex(text, r"(?m)^0 of \d+ readings taken: 0 agree, 0 disagree; \d+ missing$")
        self.run_program("check", "lamp.json", "--csv", "v.csv", "--csv-separator", "semicolon")
        self.assertTrue((self.path / "v.csv").read_bytes().startswith(b"\xef\xbb\xbfclaim;kind;condition;rule;verdict;"))

    def test_numbers_of_a_run_have_the_digits_that_matter(self):
        self.write("gauge.json", {"lanyard": 1, "name": "Gauge", "inputs": {"oil": {"senses": "oil_pressure"}},
                                  "outputs": {"low": "oil < 15 psi"}, "claims": {"c": {"possible": "low"}}})
        self.write("s.csv", "time,oil_pressure [bar]\n0,1.37\n")
        text, _ = self.run_program("run", "gauge.json", "--script", "s.csv", "--format", "csv")
        self.assertEqual(text, "time [s],oil_pressure [psi],oil [psi],low,powered\n0,19.87017,19.87017,0,1\n")

    def test_a_report_says_what_it_wrote(self):
        self.write("lamp.json", {**LAMP, "claims": {**LAMP["claims"], "always lit": {"always": "lamp"}}})
        text, _ = self.run_program("report", "lamp.json", "--out", "lamp-report", code=10)
        self.assertTrue(text.endswith("""
Written into lamp-report: report.html (open this one), verdicts.json,
verdicts.xml, verdicts.sarif, case.txt, case.dot, record.txt, verdicts.csv,
card.html, card.csv, card.txt, runs/ (1 run).
"""), text)
        for name in re.findall(r"[a-z]+\.[a-z]+", text.rsplit("Written into", 1)[1]):
            self.assertTrue((self.path / "lamp-report" / name).is_file(), name)

    def test_progress_without_a_terminal(self):
        # A car that takes longer than the two seconds until the first line.
        command = [LANYARD, "check", str(ROOT / "demo" / "car.json"), "--time", "6", "--jobs", "1"]
        quiet = subprocess.run(command, cwd=self.path, capture_output=True, text=True, timeout=120, check=False)
        self.assertEqual(quiet.stderr, "")
        told = subprocess.run([*command, "--progress"], cwd=self.path, capture_output=True, text=True, timeout=120,
                              check=False)
        self.assertNotEqual(told.stderr, "")
        for line in told.stderr.splitlines():
            self.assertRegex(line, r"^lanyard: \d+ of \d+ decided, \d+ s(, about \d+ (s|min) left if the others take "
                                   r"as long)?: [^:]+$")


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1], verbosity=2)
