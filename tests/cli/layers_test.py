"""Each folder of src/ may include only folders that stand before it, the program only the public headers. A folder is a
namespace, which sees the names of those that it may include (base/layers.hpp)."""

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


def sees():
    """What base/layers.hpp lets each namespace see."""
    text = (ROOT / "src" / "base" / "layers.hpp").read_text(encoding="utf-8")
    found = re.findall(r"^namespace (\w+) \{((?:\nusing namespace \w+;)*)\n?\}", text, re.M)
    return {name: re.findall(r"using namespace (\w+);", names) for name, names in found}


def names_of(file, folder):
    """Namespaces of ours that a file opens and that are not its folder's, but for names that it only announces."""
    text = file.read_text(encoding="utf-8")
    announced = re.compile(r"^namespace lanyard::\w+ \{\n(?://.*\n|(?:class|struct) \w+;.*\n)+\}.*\n", re.M)
    for name in re.findall(r"^namespace lanyard((?:::\w+)*) \{", announced.sub("", text), re.M):
        if name.split("::")[1:2] != [folder]:
            yield "lanyard" + name


def main():
    wrong = []
    if sees() != {k: v for k, v in ALLOWED.items() if k != "cli"}:
        wrong.append("src/base/layers.hpp: says otherwise than this test who may see whom")
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
            if file.name != "layers.hpp":
                wrong.extend(f"{file.relative_to(ROOT)}: namespace {name}" for name in names_of(file, folder))
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
