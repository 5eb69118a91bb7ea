#!/usr/bin/env python3
"""A family of models that grows: N channels, each a comparator with two thresholds, a delay, a latch and a relay, and
one response claim for each. `family.py N [--defect] [--delay SECONDS]` prints one of them; with --defect the last
channel's reset is stronger than its trip, so that its claim is refuted."""

import argparse
import json


def model(channels, defect=False, delay=1):
    m = {
        "lanyard": 1,
        "name": f"{channels} channels" + (", one of them wrong" if defect else ""),
        "quantities": {}, "inputs": {"reset": "momentary"}, "logic": {}, "outputs": {}, "relays": {}, "claims": {},
    }
    for i in range(1, channels + 1):
        m["quantities"][f"heat_{i}"] = "-40 .. 150 degC"
        m["inputs"][f"t_{i}"] = {"senses": f"heat_{i}", "accuracy": "1 K"}
        m["logic"][f"hot_{i}"] = f"TON(band(t_{i}, on > 110 degC, off < 100 degC), {delay} s)"
        latch = "RS" if defect and i == channels else "SR"
        m["logic"][f"trip_{i}"] = f"{latch}(hot_{i}, reset)"
        m["outputs"][f"run_{i}"] = {"on": f"NOT trip_{i}", "relay": f"k_{i}"}
        m["relays"][f"k_{i}"] = {"pulls_in": "10 ms", "drops_out": "5 ms", "feeds": f"load_{i}"}
        m["claims"][f"channel {i} cuts"] = {
            "whenever": f"heat_{i} > 112 degC", "for": f"{delay} s", "then": f"NOT load_{i}", "within": "50 ms"}
    return m


def main():
    p = argparse.ArgumentParser(description=__doc__)
    p.add_argument("channels", type=int)
    p.add_argument("--defect", action="store_true")
    p.add_argument("--delay", type=int, default=1)
    a = p.parse_args()
    print(json.dumps(model(a.channels, a.defect, a.delay), indent=2))


if __name__ == "__main__":
    main()
