"""twins_test.py LANYARD: the twins that the bench gives to other model checkers mean what lanyard's models mean.

exact     for bounds below, at and above the exact limit of several timers, and other relays, the search of all states
          of the twin says what lanyard says
tools     ABC and Spin, where they are installed, say the same about the twins as they are written out
rows      what a row of the aims says of a bound
"""
import json
import pathlib
import subprocess
import sys
import tempfile
import unittest

from aims import Row
from family import claim_of, family
from leaps import TOOLS, asked, installed
from twins import Twin

LANYARD = sys.argv.pop(1) if len(sys.argv) > 1 else "lanyard"
TIMERS = (30, 50)


def member(count, milliseconds, more=0, defect=False, relay=None):
    """A member with a bound of so many milliseconds more."""
    model = family(count, defect, milliseconds / 1000)
    for claim in model["claims"].values():
        claim["within"] = f"{int(claim['within'].split()[0]) + more} ms"
    if relay:
        model["relays"] = {name: relay for name in model["relays"]}
    return model


class Twins(unittest.TestCase):
    def setUp(self):
        scratch = tempfile.TemporaryDirectory()
        self.addCleanup(scratch.cleanup)
        self.folder = pathlib.Path(scratch.name)

    def holds(self, model, claim):
        path = self.folder / "model.json"
        path.write_text(json.dumps(model))
        command = [LANYARD, "check", path, "--claim", claim, "--jobs", "1"]
        done = subprocess.run(command, capture_output=True, check=False)
        self.assertIn(done.returncode, (0, 10), done)
        return done.returncode == 0

    def compare(self, model, count=1):
        claim = claim_of(count)
        holds = self.holds(model, claim)
        self.assertEqual(not Twin(model, claim).violated(), holds, model["claims"][claim])
        return holds

    def test_the_twin_is_exact(self):
        for milliseconds in TIMERS:
            # The family's bound is one scan above the limit.
            verdicts = [self.compare(member(1, milliseconds, more)) for more in (-20, -10, 0)]
            self.assertEqual(verdicts, [False, True, True])

    def test_other_relays(self):
        for drops_out, limit in (("30 ms", 0), ("10 .. 20 ms", -10)):
            relay = {"pulls_in": "10 .. 30 ms", "drops_out": drops_out}
            verdicts = [self.compare(member(1, 30, limit + more, relay=relay)) for more in (-10, 0, 10)]
            self.assertEqual(verdicts, [False, True, True], drops_out)

    def test_two_channels(self):
        self.assertTrue(self.compare(member(2, 30), 2))
        self.assertFalse(self.compare(member(2, 30, defect=True), 2))

    def test_tools(self):
        present = [tool for tool in TOOLS if installed(tool)]
        for tool in sorted(set(TOOLS) - set(present)):
            print(f"{tool} is not installed: its twins were not tried", file=sys.stderr)
        if not present:
            self.skipTest("neither ABC nor Spin is installed")
        for tool in present:
            for i, (milliseconds, more, defect) in enumerate(((30, -20, False), (30, -10, False), (50, 0, True))):
                model = member(1, milliseconds, more, defect)
                answer = asked(tool, Twin(model, claim_of(1)), self.folder / f"{tool}-{i}", 60)
                self.assertEqual(answer.holds, (more, defect) == (-10, False), f"{tool}: {model['claims']}")


class Rows(unittest.TestCase):
    def test_verdicts(self):
        open_ = "open: no answer within the limit"
        for bound, least, below, above in (("", False, "met", "missed"), ("", True, "missed", "met"),
                                           (">", False, open_, "missed"), (">", True, open_, "met"),
                                           ("<", False, "met", open_), ("<", True, "missed", open_)):
            verdicts = [Row("part", "what", 10, value, bound, least).verdict() for value in (9, 11)]
            self.assertEqual(verdicts, [below, above], (bound, least))

    def test_texts(self):
        self.assertEqual(Row("keep", "kept / cold", 0.1, 0.25).text(),
                         f"{'keep':<8} {'kept / cold':<58} {'0.25':>10}    {'<= 0.1':>10}  missed")
        self.assertEqual(Row("leaps", "Spin", 100, 112, ">", least=True).text(),
                         f"{'leaps':<8} {'Spin':<58} {'> 112.00':>10}    {'>= 100':>10}  met")
        self.assertEqual(Row("demo", "whole", 2.5, None).verdict(), "not measured: no answer within the limit")


if __name__ == "__main__":
    unittest.main()
