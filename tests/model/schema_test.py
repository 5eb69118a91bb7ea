#!/usr/bin/python3
"""Tries the JSON Schemas of model files and of rule packs with Debian's python3-jsonschema.

usage: schema_test.py [--packs] SCHEMA FOLDER...

Every *.json below the folders that is a model (with --packs: a rule pack) is validated, under draft-07 and under 2020-12, and both must agree.
Good models must pass. A rejected one may pass, if what is wrong with it is not its structure; those whose problem is
one that a schema must see do not pass.
"""

import json
import pathlib
import sys

import jsonschema

# Codes of diagnostics that say something about structure alone: the schema must see it as well.
STRUCTURAL = {
    "unknown-key", "missing-key", "wrong-json-type", "wrong-version", "one-controller", "no-kind", "two-kinds",
    "bad-choice", "empty-list", "bad-name", "look-alike-name", "non-ascii-name",
}


def is_pack(path):
    return path.name == "pack.json" or (path.parent.name == "rejected" and path.name.endswith(".json"))


def is_model(path):
    return path.name != "pack.json" and path.name.endswith(".json") and not path.name.endswith((".expect.json", ".script.json", ".schema.json"))


def codes_of(path):
    expect = path.with_name(path.name[: -len(".json")] + ".expect.txt")
    codes = set()
    for line in expect.read_text(encoding="utf-8", errors="replace").splitlines():
        if ": error: " in line and line.endswith("]"):
            codes.add(line[line.rindex("[") + 1 : -1])
    return codes


def load(path):
    try:
        return json.loads(path.read_bytes())
    except (ValueError, RecursionError):
        return None


def check(path, validators, failures):
    rejected = path.parent.name == "rejected"
    value = load(path)
    if value is None:
        if not rejected:
            failures.append(f"{path}: not JSON")
        return
    passes = [not list(v.iter_errors(value)) for v in validators]
    if len(set(passes)) != 1:
        failures.append(f"{path}: draft-07 and 2020-12 do not agree")
    if not rejected and not passes[0]:
        problem = jsonschema.exceptions.best_match(validators[0].iter_errors(value))
        failures.append(f"{path}: a good file, but: {problem.message} at {list(problem.absolute_path)}")
    if rejected and passes[0] and codes_of(path) & STRUCTURAL:
        failures.append(f"{path}: passes, though {sorted(codes_of(path) & STRUCTURAL)} should be seen")


def keywords(node, found):
    if isinstance(node, dict):
        for key, value in node.items():
            found.add(key)
            if key in ("properties", "definitions"):
                for inner in value.values():
                    keywords(inner, found)
            elif key not in ("examples", "enum", "const", "required"):
                keywords(value, found)
    elif isinstance(node, list):
        for value in node:
            keywords(value, found)


def main():
    words = sys.argv[1:]
    wanted = is_pack if words[0] == "--packs" else is_model
    if words[0] == "--packs":
        words = words[1:]
    schema = json.loads(pathlib.Path(words[0]).read_text())
    failures = []
    used = set()
    keywords(schema, used)
    shared = {
        "$schema", "$ref", "title", "description", "examples", "definitions", "type", "const", "enum", "anyOf", "allOf",
        "properties", "required", "additionalProperties", "propertyNames", "pattern", "items", "minItems", "minLength",
        "maxLength", "minimum", "maximum",
    }
    if used - shared:
        failures.append(f"keywords that draft-07 and 2020-12 may not share: {sorted(used - shared)}")
    validators = []
    for kind in (jsonschema.Draft7Validator, jsonschema.Draft202012Validator):
        kind.check_schema({k: v for k, v in schema.items() if k != "$schema"})
        validators.append(kind(schema))
    models = [p for folder in words[1:] for p in sorted(pathlib.Path(folder).rglob("*.json")) if wanted(p)]
    if not models:
        failures.append("no files found")
    for path in models:
        check(path, validators, failures)
    for failure in failures:
        print(failure)
    print(f"{len(models)} files, {len(failures)} failures")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
