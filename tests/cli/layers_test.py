"""Each folder of src/ may include only folders that stand before it, the program only the public headers."""

import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]

# What a folder may include besides itself and what those may include: the order of CMakeLists.txt.
ALLOWED = {
    "base": [],
    "lang": ["base"],
    "model": ["lang"],
    "claims": ["model"],
    "circuit": ["claims"],
    "sim": ["claims", "circuit"],
    "encode": ["claims", "circuit"],
    "certify": ["encode", "sim"],
    "prove": ["certify"],
    "explain": ["prove"],
    "fault": ["prove"],
    "card": ["prove"],
    "report": ["claims", "circuit", "sim"],
    "page": ["report"],
    "api": ["explain", "fault", "card", "page"],
    "cli": [],
}


def closure(folder):
    found = {folder}
    for other in ALLOWED[folder]:
        found |= closure(other)
    return found


def main():
    wrong = []
    for folder in sorted(p.name for p in (ROOT / "src").iterdir() if p.is_dir()):
        if folder not in ALLOWED:
            wrong.append(f"src/{folder}: a folder that has no place in the order")
            continue
        may = closure(folder)
        for file in sorted((ROOT / "src" / folder).rglob("*.[ch]pp")):
            for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1):
                found = re.match(r'\s*#include\s+["<]([a-z]+)/', line)
                if not found or found[1] not in {*ALLOWED, "lanyard"}:
                    continue
                allowed = found[1] in may or (found[1] == "lanyard" and folder in ("api", "cli"))
                if not allowed:
                    wrong.append(f"{file.relative_to(ROOT)}:{number}: {line.strip()}")
        for file in (ROOT / "src" / folder).rglob("*.[ch]pp"):
            text = file.read_text(encoding="utf-8")
            if re.search(r"\b(public AnswerFilter|AnswerFilter::installed(\.\w+\(| = ))", text):
                wrong.append(f"{file.relative_to(ROOT)}: only tests may change what a solver says")
            lines = len(text.splitlines())
            if lines > 600:
                wrong.append(f"{file.relative_to(ROOT)}: {lines} lines, 600 are the most")
    print("\n".join(wrong) or "every include goes downhill")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
