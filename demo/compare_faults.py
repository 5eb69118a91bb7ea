"""Compares the faults that break claims with the expected ones: compare_faults.py RESULT.json EXPECT.json"""

import json
import sys


def told(claim: dict) -> dict:
    sets = sorted(" + ".join(one["faults"]) for one in claim.get("sets", []))
    complete = [order["order"] for order in claim.get("orders", []) if order["complete"]]
    return {"broken_by": sets, "complete_to": max(complete, default=0)}


def main() -> int:
    with open(sys.argv[1], encoding="utf-8") as file:
        found = {claim["claim"]: told(claim) for claim in json.load(file)["claims"]}
    with open(sys.argv[2], encoding="utf-8") as file:
        expected = json.load(file)["claims"]
    wrong = 0
    for claim in sorted(found.keys() | expected.keys()):
        if found.get(claim) != expected.get(claim):
            print(f"UNEXPECTED: {claim}: {found.get(claim, 'missing')}, expected {expected.get(claim, 'no such claim')}")
            wrong += 1
    print(f"faults of {len(expected)} claims expected, {wrong} not as expected")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
