"""bench.py LANYARD BENCH_TIMES [--only PART,PART] [--channels 1,2,4] [--leap-channels 1,2,4] [--timers 1,10,60]
[--faults 9,20,40] [--demo FOLDER] [--limit SECONDS] [--row-limit SECONDS] [--repeats N]

family   One claim of each member of the family: lanyard check (encoding, leap lemma, search, certificate, re-check and
         replay included) beside z3's own command line on the file of lanyard export, in turn, in the same run.
timer    a timer of 10 min beside one of 1 s
lock-out, start, faults
         The families of the claims that z3 is not asked about: no lock-out, a start procedure; and faults, of which z3
         is asked one set at a time.
leaps    beside ABC and Spin, on twins that go scan by scan (leaps.py); timers in seconds
demo, keep, needs, mutants
         the demo car (aims.py)

At the end the aims, as far as the parts chosen by --only measured them. Processor seconds (user and system) of whole
processes, the median of the repeats; peak resident memory. --limit is for each process of a family, --row-limit for
each run about the demo car, in processor seconds too. The exit code is 1 if any two of the programs disagree.
"""
import argparse
import json
import math
import pathlib
import statistics
import subprocess
import sys
import tempfile

from aims import Car, Row, ratio, table
from family import claim_of, family, lock_out, start, with_faults
from leaps import leaps
from measured import PARTS, measured, middle, parts


def parts_of(member, limit, *claim):
    """Where the time of a check goes, in seconds: the program of this folder asks the library, once more."""
    run = measured([member.times, member.model, *claim], limit)
    return parts(run)[0] if member.in_time and run.in_time else dict.fromkeys(PARTS, 0)


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
        self.ours, self.theirs = middle(ours), middle(theirs)
        self.seconds, self.in_time = self.ours.seconds, self.ours.in_time
        self.parts = parts_of(self, limit, self.claim)
        # As a Horn file: sat = the claim's bad state cannot be reached.
        self.right = not self.in_time or self.ours.code == (10 if self.defect else 0)
        answer = self.theirs.text.split()[0] if self.theirs.text.split() else ""
        self.z3_right = not self.theirs.in_time or answer == ("unsat" if self.defect else "sat")
        self.ratio = self.seconds / self.theirs.seconds
        return self

    def row(self):
        where = " ".join(f"{self.parts[p]:11.2f}" for p in PARTS)
        wrong = "" if self.right else "  LANYARD IS WRONG"
        wrong += "" if self.z3_right else "  z3 says otherwise"
        return (f"{self.count:8d} {'defect' if self.defect else 'safe':>7} {self.ours.time_text():>8} "
                f"{self.ours.memory:6.0f} {self.theirs.time_text():>8} {self.theirs.memory:6.0f} {self.ratio:7.2f}  "
                f"{where}{wrong}")


class Alone:
    """A member of a family that is one claim, timed without z3 beside it."""

    def __init__(self, options, folder, make, count, defect):
        self.count, self.defect, self.lanyard, self.times = count, defect, options.lanyard, options.times
        self.model = folder / f"{make.__name__}-{count}-{'defect' if defect else 'safe'}.json"
        self.model.write_text(json.dumps(make(count, defect), indent=1))

    def run(self, limit, repeats):
        command = [self.lanyard, "check", str(self.model), "--jobs", "1"]
        self.ours = middle([measured(command, limit) for _ in range(repeats)])
        self.seconds, self.in_time = self.ours.seconds, self.ours.in_time
        self.parts = parts_of(self, limit)
        self.right = not self.in_time or self.ours.code == (10 if self.defect else 0)
        return self

    def row(self):
        where = " ".join(f"{self.parts[p]:11.2f}" for p in PARTS)
        return (f"{self.count:8d} {'defect' if self.defect else 'safe':>7} {self.ours.time_text():>8} "
                f"{self.ours.memory:6.0f}  {where}" + ("" if self.right else "  LANYARD IS WRONG"))


def growth(members):
    """Prints how the time grows; the larger of the exponents of the upper halves, None without two members each."""
    upper_halves = []
    for defect in (False, True):
        points = [(m.count, m.seconds) for m in members if m.defect == defect and m.in_time]
        if len(points) > 1:
            upper = points[len(points) // 2:]
            print(f"time grows as N^{exponent(points):.2f}" +
                  (f" (upper half N^{exponent(upper):.2f})" if len(upper) > 1 else "") +
                  f", {'defect' if defect else 'safe'}")
            upper_halves += [exponent(upper)] if len(upper) > 1 else []
    return max(upper_halves, default=None)


def alone(options, folder, make, title):
    """A row a member; nothing larger is tried once one takes too long."""
    print(f"\n{title}\n{'channels':>8} {'twin':>7} {'lanyard':>8} {'MB':>6}  " + " ".join(f"{p:>11}" for p in PARTS))
    members = []
    for defect in (False, True):
        for count in options.channels:
            m = Alone(options, folder, make, count, defect).run(options.limit, options.repeats)
            print(m.row(), flush=True)
            members.append(m)
            if not m.in_time:
                break
    growth(members)
    return all(m.right for m in members), []


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
    run = measured(["z3", horn], options.limit)
    return run.seconds, run.text.split()[:1] == ["unsat"]


def faults(options, folder):
    """lanyard faults --order 2 beside one run of z3 a set: of each fault, and of each pair of those that break nothing
    alone."""
    print(f"\nall sets of up to 2 of N faults; z3: one run a set\n"
          f"{'faults':>8} {'lanyard':>8} {'z3':>8} {'runs':>6} {'ratio':>7}")
    good = True
    for count in options.faults:
        model = folder / "faults.json"
        model.write_text(json.dumps(with_faults(count)))
        run = measured([options.lanyard, "faults", model, "--order", "2", "--jobs", "1"], options.limit)
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
        print(f"{count:>8} {run.time_text():>8} {total:>8.2f} {runs:>6} {run.seconds / total:>7.2f}", flush=True)
        found = {name for name in names if name in run.text}
        good = good and run.code == 10 and found == set(names) - set(quiet)
        good = good and "no other set of up to 2 faults makes it fail: proved" in run.text
    return good, []


def beside_z3(options, folder):
    """The table of the family, and its aims: of the safe members, ours beside z3's."""
    print(f"one claim of N channels; seconds and MB; limit {options.limit:g} s, median of {options.repeats}")
    print(f"{'channels':>8} {'twin':>7} {'lanyard':>8} {'MB':>6} {'z3':>8} {'MB':>6} {'ratio':>7}  " +
          " ".join(f"{p:>11}" for p in PARTS))
    members = []
    for defect in (False, True):
        for count in options.channels:
            members.append(Member(options, folder, count, defect, 1).run(options.limit, options.repeats))
            print(members[-1].row(), flush=True)
    ratios = [m.ratio for m in members]
    print(f"\nratio lanyard / z3: median {statistics.median(ratios):.2f}, largest {max(ratios):.2f}")
    safe = [m for m in members if not m.defect]
    bound = ("" if all(m.in_time for m in safe) else ">") + ("" if all(m.theirs.in_time for m in safe) else "<")
    ratios = [m.ratio for m in safe]
    exponent_ = growth(members)
    return all(m.right for m in members), [
        Row("family", "lanyard / z3, safe, median", 1, statistics.median(ratios), bound),
        Row("family", "lanyard / z3, safe, worst", 2, max(ratios), bound),
        Row("family", "time grows as N^x, upper half, x", 1.1, exponent_,
            "" if all(m.in_time for m in members) else ">", why="too few channels")]


def timer(options, folder):
    short, long = (Member(options, folder, min(4, max(options.channels)), False, s).run(options.limit, options.repeats)
                   for s in (1, 600))
    print(f"a timer of 10 min costs {long.ours.time_text()} s, one of 1 s {short.ours.time_text()} s: "
          f"{long.seconds / short.seconds:.2f} times ({short.count} channels)")
    return short.right and long.right, [ratio("timer", "timer of 10 min / of 1 s", 1.2, long.ours, short.ours)]


def numbers(text):
    return [int(n) for n in text.split(",")]


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("lanyard")
    parser.add_argument("times")
    parser.add_argument("--only", type=lambda text: text.split(","))
    parser.add_argument("--channels", type=numbers, default=[1, 2, 4, 8, 16, 32, 64])
    parser.add_argument("--leap-channels", type=numbers, default=[1, 2, 4, 8])
    parser.add_argument("--timers", type=lambda text: [float(t) for t in text.split(",")], default=[1, 10, 60])
    parser.add_argument("--faults", type=numbers, default=[9, 20, 40])
    parser.add_argument("--demo", type=pathlib.Path, default=pathlib.Path(__file__).parents[2] / "demo")
    parser.add_argument("--limit", type=float, default=120)
    parser.add_argument("--row-limit", type=float, default=3600)
    parser.add_argument("--repeats", type=int, default=3)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="lanyard-bench-") as scratch:
        folder = pathlib.Path(scratch)
        car = Car(options, folder)
        all_parts = {
            "family": lambda: beside_z3(options, folder),
            "timer": lambda: timer(options, folder),
            "lock-out": lambda: alone(options, folder, lock_out, "no lock-out of N trips by one button"),
            "start": lambda: alone(options, folder, start, "a start procedure with N permissives"),
            "faults": lambda: faults(options, folder),
            "leaps": lambda: leaps(options, folder),
            "keep": car.keep,
            "demo": car.demo,
            "needs": car.needs,
            "mutants": car.mutants,
        }
        chosen = options.only or list(all_parts)
        for name in chosen:
            if name not in all_parts:
                parser.error(f"--only {name}: the parts are {', '.join(all_parts)}")
        results = [run() for name, run in all_parts.items() if name in chosen]
        table([row for _, rows in results for row in rows])
    return 0 if all(good for good, _ in results) else 1


sys.exit(main())
