"""What a command takes: the processor time of the process and its children, which a loaded machine does not spoil, and
its peak resident memory."""
import dataclasses
import math
import os
import resource
import signal
import subprocess
import tempfile
import time


@dataclasses.dataclass
class Run:
    seconds: float  # of the processor
    wall: float
    memory: float  # MB
    code: object  # the exit code; None: ended by the limit
    text: str  # standard output

    @property
    def in_time(self):
        return self.code is not None

    def time_text(self):
        return f"{'' if self.in_time else '> '}{self.seconds:.2f}"


def measured(command, limit, folder=None):
    """Runs the command for `limit` seconds of the processor at most, rounded up."""
    most = math.ceil(limit)
    start = time.monotonic()
    with tempfile.TemporaryFile() as output:
        process = subprocess.Popen(list(map(str, command)), stdin=subprocess.DEVNULL, stdout=output,
                                   stderr=subprocess.DEVNULL, cwd=folder,
                                   preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_CPU, (most, most + 1)))
        _, status, usage = os.wait4(process.pid, 0)
        wall = time.monotonic() - start
        process.returncode = os.waitstatus_to_exitcode(status)
        output.seek(0)
        text = output.read().decode(errors="replace")
    code = None if process.returncode == -signal.SIGXCPU else process.returncode
    return Run(usage.ru_utime + usage.ru_stime, wall, usage.ru_maxrss / 1024, code, text)


PARTS = ("finding", "minimising", "re-checking", "replaying")


def parts(run):
    """What bench_times printed: where the seconds of each claim went."""
    return [dict(zip(PARTS, map(float, line.split()), strict=True)) for line in run.text.splitlines()]


def middle(runs):
    """The run of the median time."""
    return sorted(runs, key=lambda r: r.seconds)[len(runs) // 2]
