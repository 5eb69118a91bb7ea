"""Compares the verdicts in a result file with the expected ones: compare.py RESULT.json EXPECT.json"""

import json
import sys


def main() -> int:
    with open(sys.argv[1], encoding="utf-8") as file:
        found = {claim["id"]: claim["verdict"] for claim in json.load(file)["claims"]}
    with open(sys.argv[2], encoding="utf-8") as file:
        expected = json.load(file)["claims"]
    wrong = 0
    for claim in sorted(found.keys() | expected.keys()):
        if found.get(claim) != expected.get(claim):
            print(f"UNEXPECTED: {claim}: {found.get(claim, 'missing')}, expected {expected.get(claim, 'no such claim')}")
            wrong += 1
    print(f"{len(expected)} verdicts expected, {wrong} not as expected")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
