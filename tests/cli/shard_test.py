"""Shares and their parts: lanyard merge makes of all parts, byte for byte, what one run makes without --shard.

shard_test.py PATH-OF-LANYARD

Parts are given in any order, left out, given twice, mixed, damaged, forged; each time the result is that of one run, or the
parts are refused with the documented message. They are made one after the other, by GNU parallel, and by a job array of a
Slurm that this test starts for itself.
"""

import copy
import getpass
import hashlib
import json
import os
import pathlib
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
import unittest

from in_folder import LANYARD, InFolder

ROOT = pathlib.Path(__file__).resolve().parents[2]
CASES = ROOT / "tests/cases"

PUMP = {
    "lanyard": 1, "name": "Pump",
    "inputs": {"key": "maintained", "arm": "momentary", "clear": "momentary"},
    "logic": {"held": "RS(arm, clear)", "late": "TON(held, 30 ms)"},
    "outputs": {"pump": "key AND late", "lamp": "held"},
    "claims": {
        "lit first": {"always": "pump -> lamp"},
        "never late": {"always": "NOT late"},
        "never gets there": {"possible": "late AND NOT held"},
        "waits for nothing": {"whenever": "late AND NOT held", "then": "pump", "within": "50 ms"},
        "comes": {"possible": "pump"},
    },
}
LAMP = {
    "lanyard": 1, "name": "Lamp on a switch",
    "circuit": {
        "parts": {"battery": "battery", "F1": "fuse", "sw": {"is": "switch", "switch": "maintained"}, "lamp": "load"},
        "wires": {"W1": "battery - F1 - sw - lamp - ground"},
    },
    "faults": {"any wire.open": "never", "any wire.to_ground": "never"},
    "claims": {"off": {"whenever": "NOT sw", "then": "NOT lamp", "within": "50 ms"}, "it lights": {"possible": "lamp"},
               "on": {"whenever": "sw", "then": "lamp", "within": "50 ms"}},
}
PACK = {"lanyard_rules": 1, "title": "Club", "publisher": "the club", "edition": "first", "text_read": "memory",
        "scope": "all", "roles": {"pump": {"kind": "expression", "meaning": "it pumps"}},
        "rules": {"off": {"requires": "off", "citation": "page 1", "roles": ["pump"],
                          "claims": {"c": {"possible": "pump"}, "d": {"always": "NOT pump"}}}}}
CODES = (0, 10, 20)


def dump(o):
    return json.dumps(o, separators=(",", ":"), ensure_ascii=False)


def sealed(part):
    """Whoever wants to can make a seal: it is a plain hash."""
    head = {k: v for k, v in part.items() if k not in ("seal", "answers")}
    seal = hashlib.sha256((dump(head) + dump(part["answers"])).encode()).hexdigest()
    return json.dumps({**head, "seal": seal, "answers": part["answers"]}, indent=1, ensure_ascii=False) + "\n"


class Shards(InFolder):
    def setUp(self):
        super().setUp()
        self.write("pump.json", PUMP)
        self.write("lamp.json", LAMP)

    def run_program(self, *words, code=None):
        done = subprocess.run([LANYARD, *words], cwd=self.path, capture_output=True, timeout=600, check=False)
        self.assertIn(done.returncode, CODES if code is None else (code,), f"{words}\n{done.stdout}\n{done.stderr}")
        return done.returncode, done.stdout, done.stderr

    def read(self, name):
        return (self.path / name).read_bytes()

    def names(self, count, name="part"):
        return [f"{name}-{i}.json" for i in range(1, count + 1)]

    def make_parts(self, words, count, name="part"):
        for i, part in enumerate(self.names(count, name), 1):
            self.run_program(*words, "--shard", f"{i}/{count}", "--part", part)
        return self.names(count, name)

    def whole(self, words, outputs=("--json",)):
        """Exit code, text, complaints and files of one run."""
        targets = [w for o in outputs for w in (o, "whole" + o)]
        said = self.run_program(*words, *targets)
        return said, [self.read("whole" + o) for o in outputs]

    def merged(self, parts, outputs=("--json",), folder=None):
        for o in outputs:
            (self.path / ("merged" + o)).unlink(missing_ok=True)
        said = self.run_program("merge", *parts, *(w for o in outputs for w in (o, "merged" + o)))
        return said, [self.read("merged" + o) for o in outputs]

    # -- the same bytes

    def all_counts(self, words, outputs, counts=(1, 2, 3)):
        expected = self.whole(words, outputs)
        for count in counts:
            with self.subTest(words=words, count=count):
                parts = self.make_parts(words, count)
                self.assertEqual(self.merged(parts, outputs), expected)
                self.assertEqual(self.merged(parts[::-1], outputs), expected)

    def test_check(self):
        self.all_counts(("check", "pump.json"), ("--json", "--junit", "--sarif", "--csv"), counts=(1, 2, 3, 7))
        self.all_counts(("check", "pump.json", "--examples", "--counterexamples", "3"), ("--json",), counts=(2,))
        self.all_counts(("check", "pump.json", "--claim", "comes", "--claim", "never late", "--prover", "directed"),
                        ("--json",), counts=(2,))
        self.all_counts(("check", "pump.json", "--work", "1000"), ("--json",), counts=(2,))

    def test_cases(self):
        for name in ("refuted/which-verdict-wins", "refuted/loopback-seals-in", "refuted/time-and-two-conditions",
                     "refuted/sneak-lamp", "proved/oil-open-wire-healthy-repaired"):
            shutil.copy(CASES / f"{name}.json", self.path / "case.json")
            self.all_counts(("check", "case.json"), ("--json",), counts=(2, 3))

    def test_rules(self):
        (self.path / "club").mkdir()
        self.write("club/pack.json", PACK)
        self.write("pump.json", {**PUMP, "roles": {"pump": "pump"}})
        for words in (("--rules", "./club"), ("--rules", "./club", "--rules-only")):
            self.all_counts(("check", "pump.json", *words), ("--json",), counts=(2,))
        # The parts are somewhere else, and merge is called there: model and pack are found from the part.
        (self.path / "away").mkdir()
        parts = self.make_parts(("check", "pump.json", "--rules", "./club"), 2, "away/part")
        done = subprocess.run([LANYARD, "merge", *(pathlib.Path(p).name for p in parts), "--json", "m.json"],
                              cwd=self.path / "away", capture_output=True, check=False)
        self.run_program("check", "pump.json", "--rules", "./club", "--json", "w.json")
        self.assertEqual((done.returncode, done.stderr), (10, b""), done.stdout)
        self.assertEqual(self.read("away/m.json"), self.read("w.json"))
        self.assertIn(b"../pump.json:", done.stdout)
        self.write("club/pack.json", {**PACK, "edition": "second"})
        self.assertEqual(self.run_program("merge", *parts, code=2)[2].decode(),
                         "error: the model or a rule pack has changed since the parts were made\n"
                         "  hint: make the parts anew\n")

    def test_faults(self):
        for words in ((), ("--order", "2", "--stories"), ("--order", "2", "--from-the-start"), ("--claim", "off")):
            self.all_counts(("faults", "lamp.json", *words), ("--json", "--csv"), counts=(1, 2, 3))
        shutil.copy(CASES / "refuted/kill-wire-open.json", self.path / "case.json")
        self.all_counts(("faults", "case.json"), ("--json",), counts=(2,))

    def test_mutants(self):
        self.all_counts(("mutants", "pump.json"), ("--json",), counts=(1, 2, 3))
        shutil.copy(CASES / "refuted/loopback-seals-in.json", self.path / "case.json")
        self.all_counts(("mutants", "case.json", "--work", "500000"), ("--json",), counts=(2,))

    # -- what a share says and writes

    def test_a_share(self):
        code, out, err = self.run_program("check", "pump.json", "--shard", "2/3", "--part", "p.json")
        text = out.decode()
        self.assertEqual((code, err), (10, b""))
        text = text[text.index("\n\n") + 2:]
        self.assertTrue(text.startswith("Part 2 of 3: claims 2, 5 of 5\n\n  REFUTED"), text)
        verdicts = [line.split() for line in text.splitlines() if ", under " in line]
        self.assertEqual([v[0] for v in verdicts], ["REFUTED", "proved"])
        self.assertTrue("never late," in text and "comes," in text)
        self.assertNotIn("lit first", text)
        self.assertIn("\n2 claims: 1 proved, 1 refuted\n", text)
        code, out, _ = self.run_program("check", "pump.json", "--shard", "7/8", "--part", "empty.json")
        self.assertEqual(code, 0)
        self.assertIn(b"\n\nPart 7 of 8: no claims, there are only 5\n\n\n0 claims: nothing judged\n", out)
        code, out, _ = self.run_program("faults", "lamp.json", "--shard", "2/2", "--part", "f.json")
        self.assertIn(b"\n\nPart 2 of 2: claims 2 of 3\n\n  it lights  fails with", out)
        self.assertNotIn(b"faults asked about", out)
        _, out, _ = self.run_program("mutants", "pump.json", "--shard", "1/4", "--part", "m.json")
        self.assertIn(b"\n\nPart 1 of 4: mutants 1, 5, 9 ...\n\n", out)
        part = json.loads(self.read("p.json"))
        self.assertEqual(sealed(part).encode(), self.read("p.json"), "the seal is not what this test takes it for")
        self.assertEqual([part[k] for k in ("file", "folder", "share", "shares", "interrupted", "asked")],
                         ["pump.json", ".", 2, 3, False, ["check"]])
        # What decides the result is recorded, and nothing else.
        self.run_program("check", "pump.json", "--claim", "comes", "--claim", "lit first", "--examples", "--counterexamples", "2",
                         "--prover", "directed", "--work", "5000", "--jobs", "1", "--time", "90", "--memory", "9000", "--color",
                         "never", "--progress", "--log", "log", "--log-level", "info", "--csv-separator", "semicolon",
                         "--shard", "1/1", "--part", "q.json")
        self.assertEqual(json.loads(self.read("q.json"))["asked"],
                         ["check", "--claim=comes", "--claim=lit first", "--examples=", "--counterexamples=2",
                          "--prover=directed", "--work=5000"])

    def test_answers_are_used(self):
        """merge searches for nothing that the parts know: its log says where each answer comes from."""
        for command, model in (("check", "pump.json"), ("faults", "lamp.json"), ("mutants", "pump.json")):
            parts = self.make_parts((command, model), 2, command)
            self.run_program("merge", *parts, "--log", "log", "--log-level", "info", "--jobs", "1")
            log = self.read("log").decode()
            self.assertNotIn("does not pass", log, command)
            self.assertGreater(log.count("checked anew: it holds"), 3, command)

    def test_usage(self):
        check = ("check", "pump.json")
        for words, said in (
            (("--shard", "1/2"), "lanyard: --shard needs --part\n"),
            (("--part", "p.json"), "lanyard: --part needs --shard\n"),
            (("--shard", "0/2", "--part", "p.json"), 'lanyard: --shard cannot be "0/2"\n  the second of eight shares is 2/8\n'),
            (("--shard", "3/2", "--part", "p.json"), 'lanyard: --shard cannot be "3/2"\n'),
            (("--shard", "1", "--part", "p.json"), 'lanyard: --shard cannot be "1"\n'),
            (("--shard", "1/2x", "--part", "p.json"), 'lanyard: --shard cannot be "1/2x"\n'),
            (("--shard", "1/200000", "--part", "p.json"), "lanyard: there is no part 1 of 200000\n"),
            (("--shard", "1/2", "--part", "p.json", "--json", "r.json"),
             "lanyard: --json and --shard cannot be combined\n  lanyard merge writes it, from all parts\n"),
            (("--shard", "1/2", "--part", "p.json", "--keep", "k.json"),
             "lanyard: --keep and --shard cannot be combined\n  the part keeps what was found\n"),
            (("--shard", "1/2", "--part", "p.json", "--fresh"), "lanyard: --fresh and --shard cannot be combined\n"),
            (("--shard", "1/2", "--part", "pump.json"), "lanyard: --part would overwrite the model, pump.json\n"),
        ):
            self.assertEqual(self.run_program(*check, *words, code=1)[2].decode()[:len(said)], said)
        self.assertFalse((self.path / "p.json").exists())
        self.make_parts(check, 1)
        self.assertEqual(self.run_program("merge", "part-1.json", "--mef", "x", code=1)[2].decode(),
                         "lanyard: these are parts of lanyard check, which has no --mef\n"
                         "  lanyard check --help shows its options\n")
        for words, said in ((("--json", "part-1.json"), "a part, part-1.json"), (("--json", "pump.json"), "the model, pump.json")):
            self.assertIn(f"lanyard: --json would overwrite {said}\n",
                          self.run_program("merge", "part-1.json", *words, code=1)[2].decode())

    def test_merge_keeps(self):
        parts = self.make_parts(("check", "pump.json"), 2)
        self.run_program("check", "pump.json", "--keep", "one.json")
        self.run_program("merge", *parts, "--keep", "all.json")
        self.assertEqual(self.read("all.json"), self.read("one.json"))

    def test_an_interrupted_share(self):
        model = {**PUMP, "claims": {f"c{i}": PUMP["claims"]["lit first"] for i in range(40)}}
        self.write("long.json", model)
        words = ("check", "long.json", "--shard", "1/1", "--part", "p.json", "--jobs", "1")
        started = subprocess.Popen([LANYARD, *words], cwd=self.path, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        for line in started.stdout:
            if line.startswith(b"  proved"):
                break
        started.send_signal(signal.SIGTERM)
        started.communicate()
        self.assertEqual(started.returncode, 130)
        part = json.loads(self.read("p.json"))
        self.assertTrue(part["interrupted"])
        found = sum(len(key) == 64 for key in part["answers"])  # longer ones are of what is shown beside an answer
        self.assertGreater(found, 0)
        expected = self.whole(("check", "long.json"))
        said, files = self.merged(["p.json"])
        self.assertEqual(said[2].decode(),
                         "lanyard: part 1 of 1, p.json, was interrupted: what it lacks is searched for now\n")
        self.assertEqual((said[:2], files), (expected[0][:2], expected[1]))
        self.run_program(*words, "--log", "log", "--log-level", "info")
        self.assertGreaterEqual(self.read("log").count(b"checked anew: it holds"), found)
        self.assertFalse(json.loads(self.read("p.json"))["interrupted"])
        self.assertEqual(self.merged(["p.json"]), expected)

    # -- parts that do not belong together

    def refused(self, parts, code=2):
        before = {p: self.read(p) for p in parts if (self.path / p).exists()}
        code, out, err = self.run_program("merge", *parts, "--json", "refused.json", code=code)
        self.assertEqual(out, b"")
        self.assertFalse((self.path / "refused.json").exists())
        self.assertEqual(before, {p: self.read(p) for p in before})
        # The line that is shown and its caret say nothing of their own.
        shown = [line for line in err.decode().splitlines() if '": ' not in line and "^" not in line]
        return "".join(line + "\n" for line in shown if line.strip() not in ("", "{"))

    def change(self, name, to, **members):
        self.write(to, sealed({**json.loads(self.read(name)), **members}))
        return to

    def place(self, part, key):
        """Line and column of a value of the head."""
        for number, line in enumerate(self.read(part).decode().splitlines(), 1):
            if line.startswith(f' "{key}": '):
                return f"{number}:{len(key) + 6}"
        return "1:1"

    def test_refusals(self):
        check = ("check", "pump.json")
        a, b, c = self.make_parts(check, 3)
        missing = ("error: of 3 parts these are missing: {} [part-missing]\n"
                   "  without them a claim could be left out unnoticed\n"
                   "  hint: make them with --shard {}/3 --part FILE, and name all parts\n")
        self.assertEqual(self.refused([b]), f"{b}:{self.place(b, 'shares')}: " + missing.format("1, 3", 1))
        twice = ("error: part 1 of 3 is in part-1.json too [part-twice]\n"
                 "  which of the two belongs to the others is unknown\n  hint: leave one of them out\n")
        shutil.copy(self.path / a, self.path / "copy.json")
        self.assertEqual(self.refused([a, b, "copy.json", c]), f"copy.json:{self.place('copy.json', 'share')}: " + twice)

        # Everything that is wrong is said at once.
        other = self.make_parts((*check, "--examples"), 2, "other")[1]
        older = self.change(c, "older.json", lanyard="0.1.0")
        self.write("hurt.json", self.read(b).decode().replace('"depth": ', '"depth": 1', 1))
        self.assertEqual(self.refused([a, other, older, "hurt.json", "pump.json", "gone.json"]), (
            f"other-2.json:{self.place(other, 'asked')}: error: this part was made with other options than part-1.json [part-other]\n"
            "  parts are merged only with parts of the same call\n  hint: give each share the same options\n"
            f"other-2.json:{self.place(other, 'shares')}: error: this part is one of another number of parts than part-1.json [part-other]\n"
            "  parts are merged only with parts of the same call\n  hint: make all parts with the same N of --shard I/N\n"
            f"older.json:{self.place(older, 'lanyard')}: error: this part was written by lanyard 0.1.0 with "
            f"{json.loads(self.read(a))['solver']}, and this is lanyard {json.loads(self.read(a))['lanyard']} with "
            f"{json.loads(self.read(a))['solver']} [part-version]\n"
            "  versions may search differently\n  hint: use one version for all parts and for merge\n"
            f"hurt.json:{self.place('hurt.json', 'seal')}: error: this file was changed since it was written [part-form]\n"
            "  it is left as it is\n  hint: make this part anew\n"
            "pump.json:1:1: error: --shard did not write this file [part-form]\n"
            "  it is left as it is\n  hint: lanyard merge takes the files that --part named\n"
            "gone.json: error: this file cannot be read\n"))

        # Of another model; the same one, changed since.
        self.write("second.json", {**PUMP, "name": "Second"})
        second = self.make_parts(("check", "second.json"), 3, "second")
        self.assertEqual(self.refused([a, b, second[2]]),
                         f"second-3.json:{self.place(second[2], 'model')}: error: this part is of another model than part-1.json [part-other]\n"
                         "  parts are merged only with parts of the same call\n"
                         "  hint: merge the parts of one model file at a time\n")
        self.write("pump.json", {**PUMP, "name": "Pumps"})
        self.assertEqual(self.refused([a, b, c]),
                         f"part-1.json:{self.place(a, 'model')}: error: pump.json has changed since the parts were made [part-model]\n"
                         "  its SHA-256 is not the one that is recorded here\n  hint: make the parts anew\n")
        (self.path / "pump.json").unlink()
        self.assertEqual(self.refused([a, b, c]),
                         f"part-1.json:{self.place(a, 'file')}: error: the model of these parts, pump.json, cannot be read [part-model]\n"
                         "  merge checks every answer of the parts against the model\n"
                         "  hint: run lanyard merge in the folder in which the shares were judged\n")

    def test_a_part_is_not_overwritten(self):
        check = ("check", "pump.json")
        a, b = self.make_parts(check, 2)
        before = self.read(a)
        _, _, err = self.run_program(*check, "--shard", "2/2", "--part", a, code=2)
        self.assertIn(f"{a}:{self.place(a, 'share')}: error: this file is part 1 of 2 already [part-twice]\n", err.decode())
        self.run_program(*check, "--keep", a, code=2)
        self.run_program(*check, "--shard", "1/2", "--part", "lamp.json", code=2)
        self.assertEqual(self.read(a), before)
        # Of another state of the model it is begun anew.
        self.write("pump.json", {**PUMP, "name": "Pumps"})
        self.run_program(*check, "--shard", "1/2", "--part", a)
        self.assertNotEqual(self.read(a), before)

    def test_forged_parts(self):
        """Whatever a part says, the result is that of one run, or the part is refused."""
        expected = self.whole(("check", "pump.json"))
        a, b = self.make_parts(("check", "pump.json"), 2)
        honest = json.loads(self.read(b))
        files = {"forged.json", "written", *os.listdir(self.path)}

        def of_all(answer):
            return {**honest, "answers": {k: answer for k in honest["answers"]}}

        lemma = {"engine": "directed", "certificate": {"induction": 1, "lemmas": ["false"], "wide": False, "tangents": []}}
        forged = [of_all(lemma), of_all({"engine": "bounded", "depth": 1}), of_all(None), of_all([]), {**honest, "answers": {}},
                  {**honest, "answers": []}, {**honest, "answers": None}]
        for key in honest:
            if key not in ("seal", "answers"):
                for value in (None, True, 0, -1, 2, 10**6, 10**30, 1.5, "", "x", "\x1b[31m", [], {}, ["x"], [1]):
                    forged.append({**honest, key: value})
                left_out = copy.deepcopy(honest)
                del left_out[key]
                forged.append(left_out)
        # Options that write, that do not exist, that are not recorded.
        for asked in (["check", "--json=written"], ["check", "--evidence=written"], ["check", "--keep=written"],
                      ["check", "--part=written"], ["check", "--shard=1/1"], ["check", "--log=written"], ["check", "MODEL=lamp.json"],
                      ["check", "--claim"], ["check", "--work=x"], ["merge"], ["help"], ["case"], ["report", "--out=written"], []):
            self.write("both.json", sealed({**honest, "asked": asked, "share": 1, "shares": 1}))
            code, out, err = self.run_program("merge", "both.json", code=1)
            self.assertEqual(out, b"", asked)
            self.assertRegex(err.decode(), r"\Alanyard: (the options in these parts are not those|--work cannot be)")
            self.assertFalse((self.path / "written").exists(), asked)
        (self.path / "both.json").unlink()
        refused = 0
        for part in forged:
            self.write("forged.json", sealed(part))
            code, out, err = self.any_code("merge", a, "forged.json", "--json", "forged.out")
            if code == 2:
                self.assertEqual(out, b"")
                self.assertRegex(err.decode(), r"(?m)^forged\.json:\d+:\d+: error: .* \[(part|kept|json)-[a-z]+\]$|^error: ")
                self.assertNotIn(b"\x1b", err)
                refused += 1
            else:
                self.assertEqual(((code, out), self.read("forged.out")), (expected[0][:2], expected[1][0]), dump(part)[:300])
                (self.path / "forged.out").unlink()
        self.assertGreater(refused, 50)
        self.assertLessEqual(set(os.listdir(self.path)), files)

    def any_code(self, *words):
        done = subprocess.run([LANYARD, *words], cwd=self.path, capture_output=True, timeout=120, check=False)
        return done.returncode, done.stdout, done.stderr

    # -- many processes

    def test_gnu_parallel(self):
        expected = self.whole(("check", "pump.json"))
        subprocess.run(["parallel", "--will-cite", "--jobs", "2", LANYARD, "check", "pump.json", "--jobs", "1", "--shard", "{}/3",
                        "--part", "part-{}.json", ":::", "1", "2", "3"], cwd=self.path, capture_output=True, timeout=600, check=False,
                       env={**os.environ, "HOME": str(self.path)})
        self.assertEqual(self.merged(self.names(3)), expected)

    def test_slurm_job_array(self):
        expected = self.whole(("check", "pump.json"))
        with Slurm() as slurm:
            slurm.run(["sbatch", "--wait", "--array=1-3", "--output=/dev/null", f"--chdir={self.path}",
                       f"--wrap='{LANYARD}' check pump.json --jobs 1 --shard $SLURM_ARRAY_TASK_ID/3 "
                       "--part part-$SLURM_ARRAY_TASK_ID.json; true"])
        self.assertEqual(self.merged(self.names(3)), expected)


class Slurm:
    """One node, this machine, with its own configuration, started as whoever runs the test. Where that may not be, the
    test is skipped with the reason."""

    def __init__(self):
        for program in ("slurmctld", "slurmd", "sbatch"):
            if shutil.which(program, path=self.path()) is None:
                raise unittest.SkipTest(f"{program} is not installed")
        self.folder = tempfile.TemporaryDirectory()
        self.daemons = []
        here = pathlib.Path(self.folder.name)
        host, user = socket.gethostname().split(".")[0], getpass.getuser()
        ports = self.free_ports(2)
        for name in ("state", "spool"):
            (here / name).mkdir()
        (here / "slurm.conf").write_text(f"""\
ClusterName=shards
SlurmctldHost={host}(127.0.0.1)
SlurmctldPort={ports[0]}
SlurmdPort={ports[1]}
AuthType=auth/none
CredType=cred/none
SlurmUser={user}
SlurmdUser={user}
StateSaveLocation={here}/state
SlurmdSpoolDir={here}/spool
SlurmctldPidFile={here}/slurmctld.pid
SlurmdPidFile={here}/slurmd.pid
SlurmctldLogFile={here}/slurmctld.log
SlurmdLogFile={here}/slurmd.log
ProctrackType=proctrack/pgid
TaskPlugin=task/none
SwitchType=switch/none
MpiDefault=none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
ReturnToService=2
NodeName={host} NodeAddr=127.0.0.1 CPUs=1 State=UNKNOWN
PartitionName=all Nodes={host} Default=YES MaxTime=INFINITE State=UP
""", encoding="utf-8")
        self.env = {**os.environ, "PATH": self.path(), "SLURM_CONF": str(here / "slurm.conf")}

    @staticmethod
    def path():
        return os.environ.get("PATH", "") + ":/usr/sbin:/sbin"

    @staticmethod
    def free_ports(count):
        held = [socket.socket() for _ in range(count)]
        for s in held:
            s.bind(("127.0.0.1", 0))
        ports = [s.getsockname()[1] for s in held]
        for s in held:
            s.close()
        return ports

    def __enter__(self):
        try:
            for daemon in ("slurmctld", "slurmd"):
                self.daemons.append(subprocess.Popen([daemon, "-D", "-c"], env=self.env, stdin=subprocess.DEVNULL,
                                                     stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL))
            self.wait_for_the_node()
        except BaseException:
            self.stop()
            raise
        return self

    def wait_for_the_node(self):
        end = time.monotonic() + 60
        while time.monotonic() < end:
            if any(d.poll() is not None for d in self.daemons):
                raise unittest.SkipTest("Slurm does not start here: a daemon ended at once")
            seen = subprocess.run(["sinfo", "--noheader", "--format=%t"], env=self.env, capture_output=True, text=True, timeout=60,
                                  check=False)
            if seen.stdout.strip() == "idle":
                return
            time.sleep(0.5)
        raise unittest.SkipTest("Slurm does not start here: its node did not become idle within a minute")

    def run(self, words):
        try:
            done = subprocess.run(words, env=self.env, capture_output=True, text=True, timeout=300, check=False)
        except subprocess.TimeoutExpired:
            raise unittest.SkipTest("Slurm did not finish the job array within five minutes") from None
        if done.returncode != 0:
            raise unittest.SkipTest(f"Slurm does not run jobs here: {done.stderr.strip()}")

    def __exit__(self, *_):
        self.stop()

    def stop(self):
        for daemon in reversed(self.daemons):
            daemon.terminate()
        for daemon in self.daemons:
            try:
                daemon.wait(20)
            except subprocess.TimeoutExpired:
                daemon.kill()
                daemon.wait()
        self.folder.cleanup()


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1], verbosity=2)
