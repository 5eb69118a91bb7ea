"""What the compiler need not notice.

One name, two types: a type in a named namespace that two files define differently makes a program without a meaning (the
one-definition rule, ISO C++20 6.3), and the linker takes one of its members for both.

One name, two functions: presets build several files as one. A function of an unnamed namespace could then be taken for
one that is called in a file beside it, without a word if its parameters fit. So its name is that of no other free
function of its folder, nor of one that a header declares which some file there reads.

Names of tests: what the head of a source file names as "Tested by" exists; what holds Catch's tests ends in _test.cpp;
the name of a test begins with that of its folder (without _run)."""

import collections
import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]

# At the beginning of a line: code in a namespace is not indented.
FUNCTION = re.compile(r"^(?!return\b|using\b|namespace\b|class\b|struct\b|enum\b)[A-Za-z][\w:<>,&*\s]*?[\s&*>](\w+)\(")
TYPE = re.compile(r"^(?:struct|class|enum class|enum) (\w+)(?!\w|::)[^;{]*\{")
OPENS = re.compile(r"^namespace ?([\w:]*) ?\{")
INCLUDE = re.compile(r'^#include ["<]([\w/.]+)[">]', re.M)


# What may hold a brace that is none: raw texts, comments, texts, characters.
LITERALS = re.compile(
    r'R"(\w*)\(.*?\)\1"|//[^\n]*|"(?:\\.|[^"\\\n])*"' + r"|(?<!\w)'(?:\\.|[^'\\\n])+'", re.S)


def names(path, what):
    """(name, namespaces around it, the unnamed one as "") of each match in a file."""
    around, depth = [], 0
    for line in LITERALS.sub("''", path.read_text()).split("\n"):
        found = what.match(line)
        if found and depth == len(around):
            yield found[1], tuple(around)
        opens = OPENS.match(line)
        if opens:
            around.append(opens[1])
        depth += line.count("{") - line.count("}")
        del around[depth:]


def types_defined_twice():
    where = collections.defaultdict(set)
    for base in ("src", "include"):
        for path in (ROOT / base).rglob("*.[ch]pp"):
            for name, around in names(path, TYPE):
                if "" not in around:
                    where["::".join(around + (name,))].add(str(path.relative_to(ROOT)))
    return [f"{name} is defined in {' and '.join(sorted(files))}" for name, files in sorted(where.items()) if len(files) > 1]


def headers_read(folder):
    """All headers of ours that some file of the folder reads, itself or through another."""
    found, open_ = set(), list(folder.glob("*.[ch]pp"))
    while open_:
        for name in INCLUDE.findall(open_.pop().read_text()):
            for path in (ROOT / "src" / name, folder / name, ROOT / "include" / name):
                if path.exists() and path not in found:
                    found.add(path)
                    open_.append(path)
    return found


def functions_taken_for_others(folder):
    where, hidden = collections.defaultdict(set), set()
    for path in sorted(folder.glob("*.cpp")):
        for name, around in names(path, FUNCTION):
            where[name].add(path)
            if "" in around:
                hidden.add((path, name))
    for path in headers_read(folder):
        for name, _ in names(path, FUNCTION):
            where[name].add(path)
    for path, name in sorted(hidden):
        others = sorted(str(p.relative_to(ROOT)) for p in where[name] - {path})
        if others:
            yield f"{path.relative_to(ROOT)}: {name} is also in {', '.join(others)}"


def tests_named_wrongly():
    named = 0
    for path in sorted((ROOT / "src").rglob("*.[ch]pp")):
        for line in re.findall(r"^// Tested by: (.*)$", path.read_text(), re.M):
            named += 1
            for test in line.split(", "):
                if not (ROOT / test).is_file():
                    yield f"{path.relative_to(ROOT)}: there is no {test}"
    if named < 50:
        yield "hardly any source file says what tests it"
    for path in sorted((ROOT / "tests").glob("*/*.cpp")):
        if ("\nTEST_CASE(" in path.read_text()) != path.name.endswith("_test.cpp"):
            yield f"{path.relative_to(ROOT)}: what holds tests, and nothing else, ends in _test.cpp"
    for path in sorted((ROOT / "tests").glob("*/CMakeLists.txt")):
        folder = path.parent.name.removesuffix("_run")
        for name in re.findall(r"(?:add_test\(\s*NAME |lanyard_script\()(\w+)", path.read_text()):
            if name != folder and not name.startswith(folder + "_"):
                yield f"{path.relative_to(ROOT)}: {name} does not begin with {folder}"


def main():
    wrong = types_defined_twice()
    wrong += tests_named_wrongly()
    for base in ("src", "tests"):
        for folder in sorted(p for p in (ROOT / base).iterdir() if p.is_dir()):
            wrong += functions_taken_for_others(folder)
    seen = [name for path in (ROOT / "src").rglob("*.cpp") for name, around in names(path, FUNCTION) if "" in around]
    if len(seen) < 100:
        wrong.append("hardly any function of an unnamed namespace was found: this test looks for nothing")
    for line in wrong:
        print(line)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
