"""Judges result files by their schema: schema_check.py SCHEMA good|bad FILE...; exit 0 if each is as expected."""

import json
import sys

import jsonschema


def main() -> int:
    with open(sys.argv[1], encoding="utf-8") as file:
        schema = json.load(file)
    wrong = 0
    # The two drafts have to agree: the schema uses only what they share.
    for draft in (jsonschema.Draft7Validator, jsonschema.Draft202012Validator):
        draft.check_schema(schema)
        for name in sys.argv[3:]:
            with open(name, encoding="utf-8") as file:
                errors = [error.message for error in draft(schema).iter_errors(json.load(file))]
            if bool(errors) != (sys.argv[2] == "bad"):
                print(name, draft.__name__, errors)
                wrong += 1
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
