"""Every example of the help texts is run, with the verdict that the text says.

Read are the texts as they are written, src/cli/help/*.txt, and the examples of the words in `lanyard help words`. An
example is a piece of JSON, a command, or an expression between quotes. It is completed by the car of help example:
a claim of it, a section of it, a script for it. A claim is proved unless the rest of its line (or the line after it)
says refuted, vacuous or undecided. A piece that belongs to nothing fails: it would be an example that nobody runs.

examples_test.py PATH-OF-LANYARD
"""

import json
import os
import pathlib
import re
import shlex
import subprocess
import sys
import tempfile
import unittest

LANYARD = os.path.abspath(sys.argv[1]) if len(sys.argv) > 1 else "lanyard"
ROOT = pathlib.Path(__file__).resolve().parents[2]
TEXTS = {f.stem: f.read_text(encoding="utf-8") for f in sorted((ROOT / "src/cli/help").glob("*.txt"))}

DECODER = json.JSONDecoder(strict=False)  # a text may go on in the next line
BEGIN = re.compile(r'(\{(?=\s*"))|("[a-z_]+":[ \t]*\n?[ \t]*(?=["\[{0-9tf]))')
MEMBER = re.compile(r'\s*"([A-Za-z_ .]+)":[ \t]*\n?[ \t]*')
COMMA = re.compile(r'\s*,\s*(?=")')
SECTIONS = {"inputs", "logic", "outputs", "circuit", "engine", "faults", "conditions", "roles", "rule_values"}
KINDS = {"always", "whenever", "once", "changes", "possible", "procedure", "recoverable"}
# Told of on their own, in the middle of a sentence: no example by themselves.
MENTIONED = {"for", "within", "out_of", "at_most", "reached_under", "needs", "primes_for_at_most"}
JUDGES = {"check", "case", "report", "card", "faults", "mutants", "needs"}


def tidy(value):
    if isinstance(value, str):
        return " ".join(value.split())
    if isinstance(value, list):
        return [tidy(v) for v in value]
    return {k: tidy(v) for k, v in value.items()} if isinstance(value, dict) else value


def members_at(text, at):
    """The members of an object that are written without its braces, and where they end."""
    found, end = {}, None
    while key := MEMBER.match(text, at):
        try:
            found[key[1]], end = DECODER.raw_decode(text, key.end())
        except ValueError:
            break
        comma = COMMA.match(text, end)
        if not comma:
            break
        at = comma.end()
    return found, end


def pieces(text):
    """(value, begin, end) of each piece of JSON."""
    at = 0
    while begin := BEGIN.search(text, at):
        value, end = None, None
        if begin[1]:
            try:
                value, end = DECODER.raw_decode(text, begin.start())
            except ValueError:
                pass
        else:
            value, end = members_at(text, begin.start())
        if end is None:
            at = begin.end()
            continue
        yield tidy(value), begin.start(), end
        at = end


def beside(text, end):
    """What is written to the right of an example: the rest of its line, and a line that is indented at least as far."""
    lines = text[end:].split("\n", 2)
    margin = end - text.rindex("\n", 0, end) - 1 if lines[0].strip() else len(text)
    more = lines[1] if len(lines) > 1 and len(lines[1]) - len(lines[1].lstrip()) >= margin else ""
    return lines[0] + " " + more


def verdict_in(text):
    found = re.findall(r"\b(proved|refuted|vacuous|undecided)\b", text.lower())
    return found[0] if found else "proved"


CAR = next(v for v, _, _ in pieces(TEXTS["example"]) if "lanyard" in v)


def words():
    shown = subprocess.run([LANYARD, "help", "words"], capture_output=True, text=True, check=True).stdout
    return [(v, shown, begin, end) for v, begin, end in pieces(shown) if shown[:begin].endswith("as in ")]


def is_claim(value, all_words):
    return bool(KINDS & set(value)) and not isinstance(value.get("changes"), list) or bool(all_words & set(value))


class Examples(unittest.TestCase):
    maxDiff = None

    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.path = pathlib.Path(cls.folder.name)
        cls.words = words()
        cls.word_names = {next(iter(v)) for v, _, _, _ in cls.words}
        cls.found = {"claim": {}, "section": [], "model": [], "script": [], "quoted": []}
        for topic, text in TEXTS.items():
            rest = text
            for value, begin, end in pieces(text):
                rest = rest[:begin] + " " * (end - begin) + rest[end:]
                cls.sort(topic, text, value, begin, end)
            cls.found["quoted"] += [(topic, " ".join(q.split())) for q in re.findall(r'"([^"]*)"', rest)]
        for value, text, begin, end in cls.words:
            cls.sort("words", text, value, begin, end)

    @classmethod
    def tearDownClass(cls):
        cls.folder.cleanup()

    @classmethod
    def sort(cls, topic, text, value, begin, end):
        where = f"{topic}, line {text.count(chr(10), 0, begin) + 1}"
        said = verdict_in(beside(text, end))
        if "lanyard" in value:
            cls.found["model"].append((where, value))
        elif isinstance(value.get("changes"), list):
            cls.found["script"].append((where, value))
        elif is_claim(value, cls.word_names) and not set(value) <= MENTIONED:
            cls.found["claim"][where] = (value, said)
        elif set(value) <= {"under", "reached_under"}:
            kind = {"recoverable": "fan"} if "reached_under" in value else {"possible": "coils"}
            cls.found["claim"][where] = ({**kind, **value}, said)
        elif set(value) == {"ends_with"}:
            steps = CAR["claims"]["it starts"]["starts"]
            cls.found["claim"][where] = ({"procedure": steps, "then_wait": "3 s", **value}, said)
        elif set(value) == {"free"}:
            fires_with = [*CAR["engine"]["fires_with"], *value["free"]]
            cls.found["section"].append((where, {"engine": {**CAR["engine"], "fires_with": fires_with, **value}}))
        elif set(value) <= SECTIONS:
            cls.found["section"].append((where, value))
        elif all(isinstance(v, str) for v in value.values()) and topic == "rules" and "needs" not in value:
            cls.found["section"].append((where, {"roles": value}))
        elif len(value) == 1 and isinstance(next(iter(value.values())), dict):
            cls.found["claim"][where] = (next(iter(value.values())), said)
        elif not set(value) <= MENTIONED:
            raise AssertionError(f"help {where}: nothing runs this example: {value}")

    def write(self, name, value):
        (self.path / name).parent.mkdir(parents=True, exist_ok=True)
        (self.path / name).write_text(value if isinstance(value, str) else json.dumps(value, indent=1), encoding="utf-8")

    def run_program(self, *args):
        done = subprocess.run([LANYARD, *args], cwd=self.path, capture_output=True, text=True, timeout=1500, check=False)
        return done.returncode, done.stdout, done.stderr

    def read_alone(self, where, model):
        """The model is accepted; nothing is judged."""
        self.write("read.json", model)
        code, out, err = self.run_program("claims", "read.json")
        self.assertEqual(code, 0, f"help {where}\n{out}{err}")

    def test_claims(self):
        self.assertGreater(len(self.found["claim"]), 35)
        ids = {json.dumps(claim): where for where, (claim, _) in self.found["claim"].items()}  # the same one once
        self.write("claims.json", {**CAR, "claims": {where: json.loads(claim) for claim, where in ids.items()}})
        code, out, err = self.run_program("check", "claims.json", "--json", "claims.result.json")
        self.assertIn(code, (0, 10, 20), out + err)
        result = json.loads((self.path / "claims.result.json").read_text(encoding="utf-8"))
        verdicts = {c["id"]: c["verdict"] for c in result["claims"]}
        judged = {where: verdicts[ids[json.dumps(claim)]] for where, (claim, _) in self.found["claim"].items()}
        self.assertEqual(judged, {where: said for where, (_, said) in self.found["claim"].items()}, out)

    def test_models_and_sections(self):
        self.assertGreaterEqual(len(self.found["model"]), 2)
        for where, model in self.found["model"]:
            self.write("whole.json", model)
            with self.subTest(where):
                code, out, err = self.run_program("check", "whole.json")
                self.assertEqual((code, err), (0, ""), out)  # all of it is proved, and nothing is warned of
        self.assertGreaterEqual(len(self.found["section"]), 5)
        roles = {"roles": {"kill_switch": "pit_kill"}}
        for where, sections in self.found["section"]:
            with self.subTest(where):
                claims = {"c": {"possible": "coils"}}
                model = {**CAR, **(roles if "rule_values" in sections else {}), **sections, "claims": claims}
                self.read_alone(where, model)

    def test_expressions(self):
        count = 0
        for topic, text in self.found["quoted"]:
            is_expression = re.search(r"[<>=(]|->|\b(AND|OR|NOT)\b", text) and re.search(r"[a-z]{2}", text)
            if not is_expression:
                continue
            count += 1
            names = set(re.findall(r"\b[A-Za-z_]\w*", text)) & {"pump", "A", "B"}
            self.assertFalse(names, f"help {topic}: {text}: not of the car")
            self.read_alone(topic, {**CAR, "claims": {"c": {"always": text}}})
            sentence = re.search(r'[^.]*"' + r"\s+".join(map(re.escape, text.split())) + r'"[^.]*', TEXTS[topic])[0]
            if "vacuous" in sentence.lower():
                code, out, err = self.run_program("check", "read.json")
                self.assertIn("VACUOUS", out, f"help {topic}: {text}\n{err}")
        self.assertGreaterEqual(count, 5)

    def commands(self):
        for topic, text in TEXTS.items():
            for shown in re.findall(r"(?m)^  (lanyard .*(?:\n {6,}--.*)*)", text):
                words_ = " ".join(re.split(r" {2,}(?!-)", re.sub(r"\n +", " ", shown))[0].split())
                if "MODEL" not in words_:
                    yield topic, words_

    def prepare(self):
        """Everything that the commands of the texts read."""
        self.prepare_scripts()
        self.write("boat.json", {**CAR, "roles": {"engine_running": "engine = running"}})
        self.write("demo/car.json", (ROOT / "demo/car.json").read_text(encoding="utf-8"))
        rule = {"requires": "off", "citation": "page 1", "roles": ["engine_running"],
                "claims": {"c": {"possible": "engine_running"}}}
        self.write("club-rules/pack.json", {
            "lanyard_rules": 1, "title": "Club", "publisher": "the club", "edition": "first", "text_read": "memory",
            "scope": "all", "roles": {"engine_running": {"kind": "expression", "meaning": "it runs"}}, "rules": {"off": rule}})
        code, out, err = self.run_program("check", "car.json", "--evidence", "out", "--claim", "it starts")
        self.assertEqual(code, 0, out + err)

    def test_commands(self):
        self.prepare()
        commands = dict.fromkeys(c for _, c in self.commands())
        self.assertGreater(len(commands), 25)
        for command in commands:
            args = shlex.split(command)[1:]
            # How it ends is not told; that it is a command is.
            if args[0] in JUDGES and "--evidence" not in args:  # of which a later command reads
                args += ["--work", "200000"]
            with self.subTest(command):
                code, out, err = self.run_program(*args)
                self.assertIn(code, (0, 10, 20), f"{command}\n{out}\n{err}")

    def test_scripts(self):
        self.prepare_scripts()
        for name in ("start.csv", "start.json"):
            code, out, err = self.run_program("run", "car.json", "--script", name)
            self.assertEqual(code, 0, err)
            self.assertIn("running" if name.endswith("csv") else "cranking", out)
            self.assertEqual(err, "", "the model does all that the script asks for")

    def prepare_scripts(self):
        csv = re.search(r"(?m)^  time,.*\n(?:  .*\n)+", TEXTS["script"])[0]
        self.write("start.csv", re.sub(r"(?m)^  ", "", csv))
        self.write("start.json", self.found["script"][0][1])
        self.write("car.json", CAR)

    def test_the_message(self):
        """The one that help diagnostics shows."""
        shown = re.search(r'error: (there is nothing called `colant` here) \[([a-z-]+)\]', TEXTS["diagnostics"])
        self.write("wrong.json", {**CAR, "logic": {**CAR["logic"], "hot": "colant > 120 degC"}})
        code, _, err = self.run_program("check", "wrong.json")
        self.assertEqual(code, 2)
        self.assertRegex(err, rf"(?m)^wrong\.json:\d+:\d+: error: {shown[1]} \[{shown[2]}\]$")


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1], verbosity=2)
