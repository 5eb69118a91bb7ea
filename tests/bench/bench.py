"""bench.py LANYARD BENCH_TIMES [--channels 1,2,4] [--faults 9,20,40] [--limit SECONDS] [--repeats N]

One claim of each member of the family: lanyard check (encoding, leap lemma, search, certificate, re-check and replay
included) beside z3's own command line on the file of lanyard export, in turn, in the same run. Wall-clock seconds of
whole processes, the median of the repeats; peak resident memory. Then the families of the claims that z3 is not asked
about: no lock-out, and a start procedure.
"""
import argparse
import json
import math
import os
import pathlib
import statistics
import subprocess
import sys
import tempfile
import threading
import time

from family import claim_of, family, lock_out, start, with_faults

PARTS = ("finding", "minimising", "re-checking", "replaying")


def measured(command, limit):
    """(seconds, MB, exit code or None for too long, output)"""
    start = time.monotonic()
    with tempfile.TemporaryFile() as output:
        process = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=output, stderr=subprocess.DEVNULL)
        over = threading.Event()

        def end():
            over.set()
            process.kill()

        timer = threading.Timer(limit, end)
        timer.start()
        _, status, usage = os.wait4(process.pid, 0)
        seconds = time.monotonic() - start
        timer.cancel()
        process.returncode = os.waitstatus_to_exitcode(status)
        output.seek(0)
        text = output.read().decode(errors="replace")
    return seconds, usage.ru_maxrss / 1024, None if over.is_set() else process.returncode, text


def parts_of(times, model, *claim):
    """Where the time of a check goes, in seconds: the program of this folder asks the library, once more."""
    done = subprocess.run([times, model, *claim], check=True, capture_output=True, text=True)
    return dict(zip(PARTS, map(float, done.stdout.split()), strict=True))


class Member:
    def __init__(self, options, folder, count, defect, seconds):
        self.count, self.defect, self.lanyard, self.times = count, defect, options.lanyard, options.times
        self.claim = claim_of(count)
        stem = f"{count}-{'defect' if defect else 'safe'}-{seconds}"
        self.model = folder / f"{stem}.json"
        self.horn = folder / f"{stem}.smt2"
        self.model.write_text(json.dumps(family(count, defect, seconds), indent=1))
        subprocess.run([self.lanyard, "export", str(self.model), "--claim", self.claim, "--export", "horn", "--out",
                        str(self.horn)], check=True, stdout=subprocess.DEVNULL)

    def run(self, limit, repeats):
        ours, theirs = [], []
        for _ in range(repeats):
            ours.append(measured([self.lanyard, "check", str(self.model), "--claim", self.claim, "--jobs", "1"], limit))
            theirs.append(measured(["z3", "fp.engine=spacer", str(self.horn)], limit))
        self.seconds, self.memory, code, _ = sorted(ours, key=lambda r: r[0])[len(ours) // 2]
        self.z3_seconds, self.z3_memory, z3_code, z3_text = sorted(theirs, key=lambda r: r[0])[len(theirs) // 2]
        self.in_time, self.z3_in_time = code is not None, z3_code is not None
        self.parts = parts_of(self.times, self.model, self.claim) if self.in_time else dict.fromkeys(PARTS, 0)
        # As a Horn file: sat = the claim's bad state cannot be reached.
        self.right = not self.in_time or code == (10 if self.defect else 0)
        answer = z3_text.split()[0] if z3_text.split() else ""
        self.z3_right = not self.z3_in_time or answer == ("unsat" if self.defect else "sat")
        self.ratio = self.seconds / self.z3_seconds
        return self

    def row(self):
        z3_time = f"{self.z3_seconds:8.2f}" if self.z3_in_time else f"> {self.z3_seconds:6.1f}"
        time_ = f"{self.seconds:8.2f}" if self.in_time else f"> {self.seconds:6.1f}"
        parts = " ".join(f"{self.parts[p]:11.2f}" for p in PARTS)
        wrong = "" if self.right else "  LANYARD IS WRONG"
        wrong += "" if self.z3_right else "  z3 says otherwise"
        return (f"{self.count:8d} {'defect' if self.defect else 'safe':>7} {time_} {self.memory:6.0f} "
                f"{z3_time} {self.z3_memory:6.0f} {self.ratio:7.2f}  {parts}{wrong}")


class Alone:
    """A member of a family that is one claim, timed without z3 beside it."""

    def __init__(self, options, folder, make, count, defect):
        self.count, self.defect, self.lanyard, self.times = count, defect, options.lanyard, options.times
        self.model = folder / f"{make.__name__}-{count}-{'defect' if defect else 'safe'}.json"
        self.model.write_text(json.dumps(make(count, defect), indent=1))

    def run(self, limit, repeats):
        command = [self.lanyard, "check", str(self.model), "--jobs", "1"]
        runs = sorted((measured(command, limit) for _ in range(repeats)), key=lambda r: r[0])
        self.seconds, self.memory, code, _ = runs[len(runs) // 2]
        self.in_time = code is not None
        self.parts = parts_of(self.times, self.model) if self.in_time else dict.fromkeys(PARTS, 0)
        self.right = not self.in_time or code == (10 if self.defect else 0)
        return self

    def row(self):
        time_ = f"{self.seconds:8.2f}" if self.in_time else f"> {self.seconds:6.1f}"
        parts = " ".join(f"{self.parts[p]:11.2f}" for p in PARTS)
        return (f"{self.count:8d} {'defect' if self.defect else 'safe':>7} {time_} {self.memory:6.0f}  {parts}" +
                ("" if self.right else "  LANYARD IS WRONG"))


def growth(members):
    for defect in (False, True):
        points = [(m.count, m.seconds) for m in members if m.defect == defect and m.in_time]
        if len(points) > 1:
            upper = points[len(points) // 2:]
            print(f"time grows as N^{exponent(points):.2f}" +
                  (f" (upper half N^{exponent(upper):.2f})" if len(upper) > 1 else "") +
                  f", {'defect' if defect else 'safe'}")


def alone(options, folder, make, title, counts):
    """A row a member; nothing larger is tried once one takes too long."""
    print(f"\n{title}\n{'channels':>8} {'twin':>7} {'lanyard':>8} {'MB':>6}  " + " ".join(f"{p:>11}" for p in PARTS))
    members = []
    for defect in (False, True):
        for count in counts:
            m = Alone(options, folder, make, count, defect).run(options.limit, options.repeats)
            print(m.row(), flush=True)
            members.append(m)
            if not m.in_time:
                break
    growth(members)
    return all(m.right for m in members)


def exponent(points):
    """Slope of log(time) over log(N), least squares."""
    xs, ys = [math.log(n) for n, _ in points], [math.log(max(t, 1e-3)) for _, t in points]
    mx, my = statistics.mean(xs), statistics.mean(ys)
    below = sum((x - mx) ** 2 for x in xs)
    return sum((x - mx) * (y - my) for x, y in zip(xs, ys)) / below if below else float("nan")


def z3_asked(options, folder, count, names):
    """Seconds of z3 on the question whether the faults break the claim, and whether they do."""
    model, horn = folder / "set.json", folder / "set.smt2"
    model.write_text(json.dumps(with_faults(count, f"any, up to {len(names)} faults of {', '.join(names)}")))
    subprocess.run([options.lanyard, "export", model, "--claim", "off", "--out", horn], check=True,
                   stderr=subprocess.DEVNULL)
    seconds, _, _, text = measured(["z3", str(horn)], options.limit)
    return seconds, text.split()[:1] == ["unsat"]


def faults(options, folder, counts):
    """lanyard faults --order 2 beside one run of z3 a set: of each fault, and of each pair of those that break nothing
    alone."""
    print(f"\nall sets of up to 2 of N faults; z3: one run a set\n{'faults':>8} {'lanyard':>8} {'z3':>8} {'runs':>6} {'ratio':>7}")
    good = True
    for count in counts:
        model = folder / "faults.json"
        model.write_text(json.dumps(with_faults(count)))
        seconds, _, code, text = measured([options.lanyard, "faults", str(model), "--order", "2", "--jobs", "1"],
                                          options.limit)
        before = count // 2
        names = [f"first.{i}.to_battery" for i in range(1, before + 1)]
        names += [f"second.{i}.to_battery" for i in range(1, count - before + 1)]
        singles = {name: z3_asked(options, folder, count, [name]) for name in names}
        total = sum(s for s, _ in singles.values())
        quiet = [name for name, (_, breaks) in singles.items() if not breaks]
        runs = len(names)
        pairs = [(a, b) for i, a in enumerate(quiet) for b in quiet[:i]]
        for pair in pairs:
            taken, breaks = z3_asked(options, folder, count, pair)
            total += taken
            good = good and not breaks
        runs += len(pairs)
        print(f"{count:>8} {seconds:>8.2f} {total:>8.2f} {runs:>6} {seconds / total:>7.2f}", flush=True)
        found = {name for name in names if name in text}
        good = good and code == 10 and found == set(names) - set(quiet)
        good = good and "no other set of up to 2 faults makes it fail: proved" in text
    return good


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("lanyard")
    parser.add_argument("times")
    parser.add_argument("--channels", default="1,2,4,8,16,32,64")
    parser.add_argument("--faults", default="9,20,40")
    parser.add_argument("--limit", type=float, default=120)
    parser.add_argument("--repeats", type=int, default=3)
    options = parser.parse_args()
    counts = [int(n) for n in options.channels.split(",")]
    good = True
    with tempfile.TemporaryDirectory(prefix="lanyard-bench-") as scratch:
        folder = pathlib.Path(scratch)
        print(f"one claim of N channels; seconds and MB; limit {options.limit:g} s, median of {options.repeats}")
        print(f"{'channels':>8} {'twin':>7} {'lanyard':>8} {'MB':>6} {'z3':>8} {'MB':>6} {'ratio':>7}  " +
              " ".join(f"{p:>11}" for p in PARTS))
        members = []
        for defect in (False, True):
            for count in counts:
                m = Member(options, folder, count, defect, 1).run(options.limit, options.repeats)
                print(m.row(), flush=True)
                members.append(m)
        good = all(m.right for m in members)
        ratios = [m.ratio for m in members]
        print(f"\nratio lanyard / z3: median {statistics.median(ratios):.2f}, largest {max(ratios):.2f}")
        growth(members)
        short, long = (Member(options, folder, min(4, max(counts)), False, s).run(options.limit, options.repeats)
                       for s in (1, 600))
        print(f"a timer of 10 min costs {long.seconds:.2f} s, one of 1 s {short.seconds:.2f} s: "
              f"{long.seconds / short.seconds:.2f} times ({short.count} channels)")
        good = good and short.right and long.right
        good = alone(options, folder, lock_out, "no lock-out of N trips by one button", counts) and good
        good = alone(options, folder, start, "a start procedure with N permissives", counts) and good
        good = faults(options, folder, [int(n) for n in options.faults.split(",")]) and good
    return 0 if good else 1


sys.exit(main())
