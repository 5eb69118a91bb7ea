#!/usr/bin/env python3
"""Times lanyard on the family of family.py, and in the same run, on the same claim, Z3's own command line on the Horn
file that lanyard exports. Figures are whole processes; the last claim of each model is the one that is asked.

measure.py LANYARD [--most N] [--repeat R]"""

import argparse
import json
import math
import os
import re
import statistics
import subprocess
import sys
import tempfile
import time

import family


def timed(command, limit=120):
    """Seconds and peak megabytes of a process, and what it printed."""
    with tempfile.TemporaryFile() as out:
        begin = time.monotonic()
        child = subprocess.Popen(command, stdout=out, stderr=subprocess.STDOUT)
        while True:
            pid, _, usage = os.wait4(child.pid, os.WNOHANG)
            if pid:
                break
            if time.monotonic() - begin > limit:
                child.kill()
                os.wait4(child.pid, 0)
                return None, 0, "timeout"
            time.sleep(0.002)
        seconds = time.monotonic() - begin
        child.returncode = 0
        out.seek(0)
        return seconds, usage.ru_maxrss / 1024, out.read().decode()


def median_of(command, repeat):
    runs = [timed(command) for _ in range(repeat)]
    seconds = [r[0] for r in runs if r[0] is not None]
    return (statistics.median(seconds) if seconds else None), max(r[1] for r in runs), runs[-1][2]


class Bench:
    def __init__(self, lanyard, repeat):
        self.lanyard, self.repeat = lanyard, repeat
        self.folder = tempfile.TemporaryDirectory()
        self.ratios = []

    def row(self, channels, defect, delay=1):
        name = os.path.join(self.folder.name, f"n{channels}{'d' if defect else 's'}{delay}.json")
        with open(name, "w", encoding="utf-8") as f:
            json.dump(family.model(channels, defect, delay), f)
        claim = f"channel {channels} cuts"
        ours, memory, text = median_of([self.lanyard, "check", name, "--claim", claim, "--jobs", "1"], self.repeat)
        verdict = re.search(r"^  (proved|REFUTED|undecided)", text, re.M)
        horn = name + ".smt2"
        subprocess.run([self.lanyard, "export", name, "--claim", claim, "--out", horn], check=True,
                       stdout=subprocess.DEVNULL)
        theirs, _, answer = median_of(["z3", "fp.engine=spacer", horn], self.repeat)
        ratio = ours / theirs if theirs else None
        if ratio:
            self.ratios.append(ratio)
        print(f"{channels:3d}  {'wrong' if defect else 'safe ':5s} {delay:5d}  {verdict.group(1) if verdict else '?':9s}"
              f" {ours:8.2f} {memory:8.0f}  {answer.split()[0] if answer.split() else '?':8s}"
              f" {'timeout ' if theirs is None else f'{theirs:8.2f}'} {'-' if ratio is None else f'{ratio:7.2f}'}",
              flush=True)
        return ours


def main():
    p = argparse.ArgumentParser(description=__doc__)
    p.add_argument("lanyard")
    p.add_argument("--most", type=int, default=64)
    p.add_argument("--repeat", type=int, default=3)
    a = p.parse_args()
    bench = Bench(os.path.abspath(a.lanyard), a.repeat)
    print("  N  kind  delay  verdict    lanyard       MB  z3              z3   ratio\n"
          "                   s               s           (sat = safe)      s")
    times = {}
    n = 1
    while n <= a.most:
        for defect in (False, True):
            times[n, defect] = bench.row(n, defect)
        n *= 2
    if a.most > 1:
        last = n // 2
        for defect in (False, True):
            exponent = math.log(times[last, defect] / times[1, defect]) / math.log(last)
            print(f"time for one claim grows as N^{exponent:.2f} ({'wrong' if defect else 'safe'})")
    short = bench.row(1, False, 1)
    long = bench.row(1, False, 600)
    print(f"a delay of 600 s costs {long / short:.2f} times what one of 1 s costs")
    print(f"ratio lanyard / z3: median {statistics.median(bench.ratios):.2f}, most {max(bench.ratios):.2f}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
