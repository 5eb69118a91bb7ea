"""What README.md shows is what the program does: its first JSON block is a model, and each console block shows a
command with its whole output. readme_test.py PATH-OF-LANYARD"""

import os
import pathlib
import re
import shlex
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]


def main():
    lanyard = os.path.abspath(sys.argv[1])
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    model = re.search(r"```json\n(.*?)```", text, re.S)
    shown = re.findall(r"```console\n\$ (lanyard [^\n]*)\n(.*?)```", text, re.S)
    if not model or not shown:
        print("README.md shows no model or no command")
        return 1
    wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        (pathlib.Path(folder) / "magpie.json").write_text(model[1], encoding="utf-8")
        for command, expected in shown:
            words = [lanyard, *shlex.split(command)[1:]]
            done = subprocess.run(words, cwd=folder, capture_output=True, text=True, timeout=120, check=False)
            if done.stdout + done.stderr != expected:
                print(f"README.md shows for `{command}`:\n{expected}\nbut it prints:\n{done.stdout}{done.stderr}")
                wrong += 1
    print(f"{len(shown)} commands of README.md, {wrong} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
