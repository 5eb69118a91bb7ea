"""Makes programs of the examples in a header: examples.py HEADER PROGRAM.."""

import pathlib
import sys

PROGRAM = "#include <iostream>\n#include <lanyard/lanyard.hpp>\n\nint main() {{\n{}}}\n"


def examples(header):
    """Lines of a comment that are set in; what stands between two of them ends an example."""
    found, open_ = [], False
    for line in header.read_text().splitlines():
        if line.startswith("//   "):
            found += [] if open_ else [""]
            found[-1] += line[2:] + "\n"
        open_ = line.startswith("//   ")
    return found


def main():
    header, *programs = map(pathlib.Path, sys.argv[1:])
    found = examples(header)
    if len(found) != len(programs):
        sys.exit(f"{header} has {len(found)} examples, not {len(programs)}")
    for text, program in zip(found, programs):
        program.write_text(PROGRAM.format(text))


main()
