#!/usr/bin/env python3
"""targets_test.py LANYARD: no output takes the place of an input, of another output or of anything of the user's.

Every option that writes, of every command, is pointed at every file that the command reads: by its name, another spelling,
a symbolic link, a hard link. Each time the program must end with 1 before it judges, and leave all bytes as they were.
"""
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import unittest

LANYARD = os.path.abspath(sys.argv.pop(1))

MODEL = {"lanyard": 1, "name": "m", "inputs": {"key": "maintained", "hand": "maintained"},
         "outputs": {"pump": "key OR hand"},
         "claims": {"follows": {"always": "key -> pump"}, "alone": {"always": "NOT key -> NOT pump"}}}
PACK = {"lanyard_pack": 1, "title": "t", "publisher": "p", "edition": "1", "text_read": "whole", "scope": "s",
        "rules": {}}
SCRIPT = "time,key\n0,0\n1,1\n"

# What writes: command, what it needs besides the model, options of files, options of folders.
WRITERS = [
    ("check", [], ["--json", "--junit", "--sarif", "--csv", "--keep"], ["--vcd", "--evidence"]),
    ("check", ["--shard", "1/2"], ["--part"], []),
    ("case", [], ["--out", "--dot", "--record", "--keep"], ["--evidence"]),
    ("report", [], ["--keep"], ["--out", "--evidence"]),
    ("faults", [], ["--json", "--csv", "--mef"], []),
    ("mutants", [], ["--json"], []),
    ("needs", [], ["--json"], []),
    ("card", [], ["--out"], []),
    ("claims", [], ["--out"], []),
    ("findings", [], ["--out"], []),
    ("graph", [], ["--out"], []),
    ("export", ["--claim", "follows"], ["--out"], []),
    ("run", ["--script", "script.csv"], ["--out"], []),
    ("why", ["pump", "--run", "script.csv"], ["--json"], []),
]


class Targets(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.path = pathlib.Path(self.folder.name)
        os.chdir(self.path)
        self.path.joinpath("m.json").write_text(json.dumps(MODEL), encoding="utf-8")
        self.path.joinpath("script.csv").write_text(SCRIPT, encoding="utf-8")
        self.path.joinpath("dir").mkdir()
        self.path.joinpath("pack").mkdir()
        self.path.joinpath("pack/pack.json").write_text(json.dumps(PACK), encoding="utf-8")
        os.symlink("m.json", "link.json")
        os.link("m.json", "hard.json")
        os.symlink("dir", "dirlink")

    def tearDown(self):
        os.chdir("/")
        self.folder.cleanup()

    def run_program(self, *words, code=None):
        done = subprocess.run([LANYARD, *words], capture_output=True, text=True, timeout=120)
        if code is not None:
            self.assertEqual(done.returncode, code, f"{words}\n{done.stdout}{done.stderr}")
        return done

    def bytes_of_all(self):
        return {str(p): p.read_bytes() for p in sorted(self.path.rglob("*")) if p.is_file()}

    def refused(self, *words, says):
        before = self.bytes_of_all()
        done = self.run_program(*words, code=1)
        self.assertEqual(done.stdout, "", words)  # before anything is judged
        self.assertIn(says, done.stderr, words)
        self.assertEqual(self.bytes_of_all(), before, words)

    def test_every_writer_against_the_model(self):
        for command, more, files, folders in WRITERS:
            for option in files:
                base = [command, "m.json", *more]
                if command == "report":
                    base += ["--out", "fresh"]
                for spelled in ("m.json", "./m.json", "dir/../m.json", str(self.path / "m.json"), "link.json",
                                "hard.json", "dirlink/../m.json" if option == "--json" else "m.json"):
                    self.refused(*base, option, spelled, says=f"{option} would overwrite the model")
            for option in folders:
                base = [command, "m.json"] + (["--out", "fresh"] if command == "report" and option != "--out" else [])
                for spelled in (".", "./", str(self.path), "dir/.."):
                    self.refused(*base, option, spelled, says="cannot write ")

    def test_the_model_by_a_link(self):
        for named in ("link.json", "hard.json", "./m.json"):
            self.refused("check", named, "--json", "m.json", says="--json would overwrite the model")

    def test_other_inputs(self):
        self.refused("run", "m.json", "--script", "script.csv", "--out", "./script.csv", says="what --script reads")
        self.refused("why", "m.json", "pump", "--run", "script.csv", "--json", "dir/../script.csv",
                     says="what --run reads")
        shutil.copy("script.csv", "filled.csv")
        self.refused("card", "m.json", "--check", "filled.csv", "--out", "filled.csv", says="what --check reads")
        self.refused("check", "m.json", "--rules", "./pack", "--json", "pack/pack.json", says="the rule pack")
        self.refused("check", "m.json", "--rules", "circuit-cars,./pack", "--csv", "pack/pack.json", says="the rule pack")
        self.refused("check", "m.json", "--rules", "./pack", "--evidence", "pack", says="cannot write into pack")

    def test_two_outputs(self):
        self.run_program("check", "m.json", "--json", "a.json", "--csv", "./a.json", code=1)
        self.refused("check", "m.json", "--json", "a.json", "--csv", "dir/../a.json", says="cannot write both")
        pathlib.Path("there").write_text("x")
        os.symlink("there", "there-too")
        self.refused("check", "m.json", "--junit", "there", "--sarif", "there-too", says="cannot write both")
        self.refused("check", "m.json", "--vcd", "out", "--evidence", "./out", says="cannot write both")
        self.refused("check", "m.json", "--vcd", "dir", "--evidence", "dirlink", says="cannot write both")
        self.refused("check", "m.json", "--evidence", "dir", "--json", "dir/a.json", says="into the folder of --evidence")
        self.refused("report", "m.json", "--out", "r", "--evidence", "r/evidence", says="into the folder of --out")
        self.refused("check", "m.json", "--keep", "k", "--json", "k", says="cannot write both")
        # What cannot be replaced may be named by two.
        self.run_program("check", "m.json", "--json", "/dev/null", code=10)

    def test_nothing_of_the_users_is_in_a_folder_that_is_replaced(self):
        for words, name in ((("check", "m.json", "--evidence"), "recheck.sh"), (("check", "m.json", "--vcd"), "README.txt"),
                            (("report", "m.json", "--out"), "report.html")):
            folder = pathlib.Path("out")
            folder.mkdir()
            (folder / name).write_text("mine")
            self.refused(*words, "out", says=f"it holds {name}, which lanyard did not write there")
            (folder / name).unlink()
            self.run_program(*words, "out", code=10)  # an empty one is good
            first = {p.name: p.read_bytes() for p in folder.rglob("*") if p.is_file()}
            self.assertIn(name, first)
            self.run_program(*words, "out", code=10)  # and so is our own
            self.assertEqual({p.name: p.read_bytes() for p in folder.rglob("*") if p.is_file()}, first)
            (folder / "notes.txt").write_text("mine")
            self.refused(*words, "out", says="it holds notes.txt, which lanyard did not write there")
            (folder / "notes.txt").unlink()
            os.symlink("../m.json", folder / "model.json")
            self.refused(*words, "out", says="it holds model.json")
            (folder / "model.json").unlink()
            with open(folder / "README.txt", "a", encoding="utf-8") as file:
                file.write("a note of mine\n")
            self.refused(*words, "out", says="which lanyard did not write there")
            shutil.rmtree(folder)

    def test_a_card_that_was_filled_in_stays(self):
        self.run_program("report", "m.json", "--out", "out", code=10)
        with open("out/card.csv", "a", encoding="utf-8") as file:
            file.write("\n")
        self.refused("report", "m.json", "--out", "out", says="it holds card.csv, which was changed since")

    def test_nothing_of_an_earlier_run_is_left(self):
        self.run_program("check", "m.json", "--evidence", "out", "--vcd", "runs", code=10)
        self.assertTrue(list(pathlib.Path("out").glob("02-alone")))
        self.assertTrue(list(pathlib.Path("runs").glob("02-alone.vcd")))
        less = {**MODEL, "claims": {"another": {"always": "hand -> pump"}}}
        pathlib.Path("less.json").write_text(json.dumps(less), encoding="utf-8")
        self.run_program("check", "less.json", "--evidence", "out", "--vcd", "runs", code=0)
        self.run_program("check", "less.json", "--evidence", "new", "--vcd", "newruns", code=0)
        for again, new in (("out", "new"), ("runs", "newruns")):
            tree = {f: {str(p.relative_to(f)) for p in pathlib.Path(f).rglob("*")} for f in (again, new)}
            self.assertEqual(tree[again], tree[new])
            for name in tree[new]:
                if pathlib.Path(new, name).is_file():
                    self.assertEqual(pathlib.Path(again, name).read_bytes(), pathlib.Path(new, name).read_bytes())
        done = subprocess.run(["sha256sum", "-c", "--ignore-missing", "README.txt"], cwd="new", capture_output=True)
        self.assertEqual(done.returncode, 0, done.stderr)

    def test_leftovers_of_a_killed_run_block_nothing(self):
        pathlib.Path("out").mkdir()

        def leave():
            # In the process that becomes lanyard: what an earlier one of the same number has left.
            for name in (f"r.json.tmp{os.getpid()}", f"r.json.tmp{os.getpid()}-0"):
                pathlib.Path(name).write_text("half")
            left = pathlib.Path("out", f".lanyard-new-{os.getpid()}-0")
            left.mkdir()
            (left / "recheck.sh").write_text("half")

        words = ["check", "m.json", "--json", "r.json", "--evidence", "out"]
        done = subprocess.run([LANYARD, *words], preexec_fn=leave, capture_output=True, text=True, timeout=60)
        self.assertEqual(done.returncode, 10, done.stderr)
        self.assertIn("claims", json.loads(pathlib.Path("r.json").read_text(encoding="utf-8")))
        # Nobody can tell it from a folder of the user's: it stays as it is.
        left = list(pathlib.Path("out").glob(".lanyard-new-*"))
        self.assertEqual([(folder / "recheck.sh").read_text() for folder in left], ["half"])
        pathlib.Path("out/mine").mkdir()
        self.assertIn("mine", self.run_program(*words, code=1).stderr)

    def test_a_run_that_was_killed_while_it_replaced_is_recognised(self):
        self.run_program("check", "m.json", "--evidence", "out", code=10)
        self.run_program("check", "m.json", "--evidence", "whole", code=10)
        shutil.rmtree("out/02-alone")
        os.remove("out/recheck.sh")
        self.run_program("check", "m.json", "--evidence", "out", code=10)
        self.assertEqual(sorted(os.listdir("out")), sorted(os.listdir("whole")))


if __name__ == "__main__":
    unittest.main()
