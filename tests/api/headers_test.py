"""Public headers stay readable, stand on each other and the standard library alone, and each is read by the front."""

import pathlib
import re
import sys

LONGEST = 300


def main():
    folder = pathlib.Path(sys.argv[1])
    wrong = []
    front = (folder / "lanyard.hpp").read_text()
    headers = sorted(folder.glob("*.hpp"))
    if len(headers) < 5:
        wrong.append(f"{folder}: few headers, so this test looks at the wrong folder")
    for path in headers:
        text = path.read_text()
        if text.count("\n") >= LONGEST:
            wrong.append(f"{path.name}: {LONGEST} lines or more")
        for name in re.findall(r"#include\s+(\S+)", text):
            if not re.fullmatch(r"<lanyard/\w+\.hpp>|<[a-z_]+>", name):
                wrong.append(f"{path.name}: includes {name}")
        if path.name not in ("lanyard.hpp", "tables.hpp") and f"<lanyard/{path.name}>" not in front:
            wrong.append(f"lanyard.hpp: does not include {path.name}")
    print("\n".join(wrong) or f"{len(headers)} headers in order")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
