"""What leaps are worth: lanyard beside two general-purpose model checkers that go scan by scan, ABC and Spin, on the
twins of twins.py.

Each of them is asked in several ways, and its time is that of the fastest right answer. ABC: property-directed
reachability with the options that were fastest on this family, induction with its base case, BDDs, and bounded search,
which only refutes. Spin: depth first without loss of states, and without compression, which was faster here; the
choices of a scan are one atomic step, so that only whole scans are stored; its partial order reduction is on, with
nothing to reduce in one process. The time to translate and compile Spin's program is left out. Processor seconds.
"""
import json
import re
import shutil
import subprocess

from aims import Row, bound_text
from family import claim_of, family
from measured import measured, middle
from twins import Twin

SPIN_MB = 8000
ABC, SPIN = "berkeley-abc", "spin"
AIMED_AT = 4  # channels


class Answer:
    """Whether the claim holds (None: no answer), after how many seconds."""

    def __init__(self, holds, seconds):
        self.holds, self.seconds = holds, seconds


def abc_script(netlist, script, limit):
    run = measured([ABC, "-c", f"read_blif {netlist}; strash; {script}"], limit)
    holds = None
    if run.in_time and "was asserted in frame" in run.text:
        holds = False
    elif run.in_time and re.search("Property proved|miter is proved unreachable", run.text):
        holds = True
    return Answer(holds, run.seconds), run


def abc_induction(netlist, limit):
    """The step first; it is a proof only with a base of as many frames."""
    step = measured([ABC, "-c", f"read_blif {netlist}; strash; ind -v -F 1000000"], limit)
    frames = re.search(r"Completed (\d+) iterations", step.text)
    if not (step.in_time and frames and "Networks are equivalent" in step.text):
        return Answer(None, step.seconds)
    base, run = abc_script(netlist, f"bmc3 -F {int(frames[1]) + 1}", limit)
    if "No output asserted" in run.text and run.in_time:
        base.holds = True
    return Answer(base.holds, step.seconds + base.seconds)


def ask_abc(twin, stem, limit):
    """The answers of ABC. Twice the time of the one before is enough: what takes longer is not the fastest."""
    netlist = stem.with_suffix(".blif")
    netlist.write_text(twin.blif())
    for script in ("pdr -if -F 1000000", "bmc3", "reach -F 1000000 -B 100000000"):
        answer = abc_script(netlist, script, limit)[0]
        yield answer
        limit = min(limit, 2 * answer.seconds + 1) if answer.holds is not None else limit
    yield abc_induction(netlist, limit)


def ask_spin(twin, stem, limit):
    """The answer of Spin, with more room for its stack, and for states, once it says that it needs it."""
    folder = stem.with_suffix(".spin")
    folder.mkdir()
    (folder / "twin.pml").write_text(twin.promela())
    subprocess.run([SPIN, "-a", "twin.pml"], cwd=folder, check=True, stdout=subprocess.DEVNULL)
    compile_ = ["gcc", "-O2", "-w", "-DSAFETY", "-DNOCOMP", f"-DMEMLIM={SPIN_MB}", "pan.c", "-o", "pan"]
    subprocess.run(compile_, cwd=folder, check=True)
    for depth, table in ((20000, 18), (2000000, 24), (50000000, 26)):
        run = measured(["./pan", f"-m{depth}", f"-w{table}"], limit, folder)
        if run.in_time and "assertion violated" in run.text:
            return [Answer(False, run.seconds)]
        if not run.in_time or "max search depth too small" not in run.text:
            break
    cut = not run.in_time or re.search("max search depth too small|not completed|MEMLIM bound|out of memory", run.text)
    return [Answer(True if "errors: 0" in run.text and not cut else None, run.seconds)]


TOOLS = {"ABC": (ask_abc, [ABC]), "Spin": (ask_spin, [SPIN, "gcc"])}


def installed(tool):
    return all(shutil.which(program) for program in TOOLS[tool][1])


def asked(tool, twin, stem, limit):
    """The fastest answer; without any, the longest that it was waited for."""
    answers = list(TOOLS[tool][0](twin, stem, limit))
    right = [a for a in answers if a.holds is not None]
    if len({a.holds for a in right}) > 1:
        return Answer("contradicts itself", max(a.seconds for a in right))
    return min(right, key=lambda a: a.seconds) if right else Answer(None, max(a.seconds for a in answers))


class Leap:
    """One member of the family, asked of all."""

    def __init__(self, options, folder, count, defect, seconds, tools):
        self.count, self.defect, self.seconds = count, defect, seconds
        model, claim = family(count, defect, seconds), claim_of(count)
        stem = folder / f"leap-{count}-{'defect' if defect else 'safe'}-{round(seconds * 1000)}"
        path = stem.with_suffix(".json")
        path.write_text(json.dumps(model))
        command = [options.lanyard, "check", path, "--claim", claim, "--jobs", "1"]
        self.ours = middle([measured(command, options.limit) for _ in range(options.repeats)])
        self.answers = {tool: asked(tool, Twin(model, claim), stem, options.limit) for tool in tools}
        self.wrong = [tool for tool, a in self.answers.items() if a.holds not in (None, not defect)]
        if self.ours.in_time and self.ours.code != (10 if defect else 0):
            self.wrong.append("lanyard")

    def ratio(self, tool):
        """How many times as long as lanyard the tool takes, and '>' or '<' if that is a bound."""
        answer = self.answers[tool]
        bound = ("" if answer.holds is not None else ">") + ("" if self.ours.in_time else "<")
        return answer.seconds / self.ours.seconds, bound

    def row(self, tools):
        cells = ""
        for tool in tools:
            if tool not in self.answers:
                cells += f" {'-':>9} {'-':>9}"
                continue
            answer, (value, bound) = self.answers[tool], self.ratio(tool)
            seconds = bound_text(">" if answer.holds is None else "", answer.seconds)
            cells += f" {seconds:>9} {bound_text(bound, value):>9}"
        wrong = f"  DISAGREES: {', '.join(self.wrong)}" if self.wrong else ""
        return (f"{self.seconds:>6g} s {self.count:8d} {'defect' if self.defect else 'safe':>7} "
                f"{self.ours.time_text():>9}{cells}{wrong}")


def leaps(options, folder):
    """A table, and the rows of the aims. A tool that has no answer in time is not asked about more channels, except
    about as many as the aims are about."""
    print("\nwhat leaps are worth: beside model checkers that go scan by scan")
    rows, good = [], True
    present = [tool for tool in TOOLS if installed(tool)]
    for tool in TOOLS:
        if tool not in present:
            print(f"{tool} is not installed ({', '.join(TOOLS[tool][1])}): its columns are left out")
            rows.append(Row("leaps", f"{tool} / lanyard", 100, None, least=True, why=f"{tool} is not installed"))
    print(f"{'timer':>8} {'channels':>8} {'twin':>7} {'lanyard':>9}" +
          "".join(f" {tool:>9} {'ratio':>9}" for tool in present))
    for seconds in options.timers:
        for defect in (False, True):
            late = set()
            for count in options.leap_channels:
                tools = [tool for tool in present if tool not in late or count == AIMED_AT]
                member = Leap(options, folder, count, defect, seconds, tools)
                print(member.row(present), flush=True)
                good = good and not member.wrong
                if count == AIMED_AT:
                    rows += [Row("leaps", f"{tool} / lanyard, {count} channels, {seconds:g} s, "
                                 f"{'defect' if defect else 'safe'}", 100, *member.ratio(tool), least=True)
                             for tool in tools]
                late |= {tool for tool in tools if member.answers[tool].holds is None}
    return good, rows
