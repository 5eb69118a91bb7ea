"""The aims of speed, and the measurements that are about the demo car.

A row of the table at the end of the bench is a ratio of processor times of one run of the bench, or megabytes. What ran
into its limit is a bound, and is printed as one.
"""
import dataclasses
import shutil

from measured import measured, parts

DEMO = ("car", "car-repaired")
# One threshold of the repaired car, moved so far that every claim still holds.
EDIT = ("oil < 1.2 bar", "oil < 1.3 bar")


@dataclasses.dataclass
class Row:
    part: str  # by which --only chooses it
    what: str
    aim: float
    value: object  # None: nothing was measured, `why` says why
    bound: str = ""  # '>': at least the value; '<': at most
    least: bool = False  # the aim is to be reached, not to be kept below
    unit: str = ""
    why: str = "no answer within the limit"

    def verdict(self):
        if self.value is None or len(self.bound) > 1:
            return "not measured: " + self.why
        kept = self.value >= self.aim if self.least else self.value <= self.aim
        if self.bound == (">" if kept != self.least else "<"):
            return "open: " + self.why  # the true value may lie on the other side of the aim
        return "met" if kept else "missed"

    def text(self):
        value = "-" if self.value is None else bound_text(self.bound, self.value)
        aim = f"{'>=' if self.least else '<='} {self.aim:g}{self.unit}"
        return f"{self.part:<8} {self.what:<58} {value:>10}{self.unit:<3} {aim:>10}  {self.verdict()}"


def bound_text(bound, value):
    return f"{bound} {value:.2f}".lstrip()


def ratio(part, what, aim, ours, other, **more):
    """How many times as long as `other` `ours` takes."""
    bound = ("" if ours.in_time else ">") + ("" if other.in_time else "<")
    return Row(part, what, aim, ours.seconds / other.seconds, bound, **more)


def table(rows):
    print(f"\naims\n{'part':<8} {'':<58} {'measured':>13} {'aim':>10}")
    for row in rows:
        print(row.text())


class Car:
    """What is asked about the demo car, each once a run of the bench."""

    def __init__(self, options, folder):
        self.options, self.folder, self.checks = options, folder, {}

    def run(self, command, path, *more):
        return measured([self.options.lanyard, command, path, "--jobs", "1", *more], self.options.row_limit)

    def model(self, name):
        return self.options.demo / f"{name}.json"

    def check(self, name):
        if name not in self.checks:
            self.checks[name] = self.run("check", self.model(name))
        return self.checks[name]

    def demo(self):
        """The parts are in wall-clock seconds, and so is the whole beside them, of the same process."""
        rows, memory = [], []
        for name in DEMO:
            memory.append(self.check(name))
            run = measured([self.options.times, self.model(name)], self.options.row_limit)
            what = f"{name}: whole check / re-checking and replaying alone"
            alone = sum(claim["re-checking"] + claim["replaying"] for claim in parts(run))
            rows.append(Row("demo", what, 2.5, run.wall / alone if run.in_time else None))
        cut = any(not run.in_time for run in memory)
        peak = max(run.memory for run in memory)
        rows.append(Row("demo", "peak memory, both cars", 120, peak, ">" if cut else "", unit=" MB"))
        return True, rows

    def keep(self):
        """The file that was kept of the model as it was, then for the model as it was, and for the edited one."""
        text = self.model("car-repaired").read_text(encoding="utf-8")
        edited, kept, again = (self.folder / name for name in ("edited.json", "kept.json", "kept-again.json"))
        if text.count(EDIT[0]) != 1:
            raise SystemExit(f"the threshold that is to be edited is not in {self.model('car-repaired')}")
        edited.write_text(text.replace(*EDIT), encoding="utf-8")
        self.checks["car-repaired"] = cold = self.run("check", self.model("car-repaired"), "--keep", kept)
        what = ("one threshold edited: check with --keep / without", "nothing edited: check with --keep / first check")
        if not kept.exists():
            return not cold.in_time, [Row("keep", w, 0.1, None) for w in what]
        shutil.copy(kept, again)
        warm = self.run("check", self.model("car-repaired"), "--keep", kept)
        edited_warm = self.run("check", edited, "--keep", again)
        edited_cold = self.run("check", edited)
        runs = (cold, warm, edited_warm, edited_cold)
        same = all(run.text.splitlines()[-2:] == cold.text.splitlines()[-2:] for run in runs if run.in_time)
        return same, [ratio("keep", what[0], 0.1, edited_warm, edited_cold), ratio("keep", what[1], 0.1, warm, cold)]

    def needs(self):
        run = self.run("needs", self.model("car-repaired"))
        return True, [ratio("needs", "car-repaired: needs / check", 3, run, self.check("car-repaired"))]

    def mutants(self):
        run = self.run("mutants", self.model("car-repaired"))
        return True, [ratio("mutants", "car-repaired: mutants / check", 10, run, self.check("car-repaired"))]
