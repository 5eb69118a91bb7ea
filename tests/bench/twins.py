"""The family of family.py once more, for general-purpose model checkers that go scan by scan: a netlist (BLIF) for ABC,
Promela for Spin.

What a twin is. The controller and the claim's monitor as a state machine with one step a scan, written once
(`Twin.scan`) in a few operations, and read three ways: as numbers (`Values`: a search of all states in Python), as
gates (`Gates`) and as Promela text (`Promela`). Its meaning is that of `lanyard help meaning`, for this family and one
claim:

    seen     the key, and of each channel whether its value is above its threshold. A quantity is compared with one
             number only and may jump from scan to scan, so this bit is all that matters of it.
    logic    TON counts the scans in a row with its input and is on past T/P; RS: off wins; all in the same scan
    drive    run, and the valve of the claim's channel
    relay    while coil and contact disagree, for which `late` counts the scans: the contact may follow once the
             shortest time of its direction is over, and has followed at the longest
    observe  the monitor counts the scans in a row with the cause; violated if it is at b = within - 1 scan, or later,
             without the effect

What the claim cannot depend on is left out, as lanyard leaves it out by itself: the other channels' valves and relays.
A timer whose latch is set starts from 0 again, because nothing looks at it until the key is off, and then it is 0
anyway: fewer states, the same runs. A cause that lasts on is counted no further than b.

Why it is trusted: twins_test.py compares the search of all states with lanyard's verdict for bounds below, at and above
the exact limit, and where ABC and Spin are installed it compares their answers too.
"""
import itertools
import re

SCAN = 10  # ms, the family's scan period


class Values:
    """A scan with numbers."""
    def name(self, _, value): return value
    def both(self, a, b): return a and b
    def either(self, a, b): return a or b
    def no(self, a): return not a
    def choose(self, c, a, b): return a if c else b
    def number(self, n, _): return n
    def equal(self, a, n): return a == n
    def next(self, a): return a + 1


class Promela(Values):
    """A scan as text."""

    def __init__(self):
        self.values = {}

    def name(self, name, value):
        self.values[name] = value
        return name

    def both(self, a, b): return f"({a} && {b})"
    def either(self, a, b): return f"({a} || {b})"
    def no(self, a): return f"!{a}"
    def choose(self, c, a, b): return f"({c} -> {a} : {b})"
    def number(self, n, _): return str(n)
    def equal(self, a, n): return f"({a} == {n})"
    def next(self, a): return f"({a} + 1)"


class Gates:
    """A scan as AND gates. A literal is twice the number of its node, odd if negated, and 0 is false, as in AIGER; a
    number is a list of literals, lowest bit first."""

    def __init__(self):
        self.nodes = 1  # node 0 is the constant
        self.gates = {}  # (literal, literal) -> literal

    def fresh(self):
        self.nodes += 1
        return 2 * (self.nodes - 1)

    def name(self, _, value):
        return value

    def both(self, a, b):
        a, b = min(a, b), max(a, b)
        if a == 0 or a == b ^ 1:
            return 0
        if a in (1, b):
            return b
        if (a, b) not in self.gates:
            self.gates[a, b] = self.fresh()
        return self.gates[a, b]

    def either(self, a, b):
        return self.both(a ^ 1, b ^ 1) ^ 1

    def no(self, a):
        return a ^ 1

    def choose(self, c, a, b):
        if isinstance(a, list):
            return [self.choose(c, x, y) for x, y in zip(a, b, strict=True)]
        return self.either(self.both(c, a), self.both(c ^ 1, b))

    def number(self, n, most):
        return [n >> i & 1 for i in range(most.bit_length())]

    def equal(self, a, n):
        all_ = 1
        for i, bit in enumerate(a):
            all_ = self.both(all_, bit ^ (n >> i & 1 ^ 1))
        return all_

    def next(self, a):
        carry, sum_ = 1, []
        for bit in a:
            sum_.append(self.choose(carry, bit ^ 1, bit))
            carry = self.both(carry, bit)
        return sum_


def scans(text):
    """The times in a text, "10 .. 20 ms", in scans."""
    times = [int(number) for number in re.findall(r"(\d+)(?= \.\. \d+ ms| ms)", text)]
    if any(time % SCAN for time in times):
        raise ValueError(f"{text}: no whole number of scans")  # lanyard would round, and each kind of time its own way
    return [time // SCAN for time in times]


class Twin:
    """One claim of a model of family.py."""

    def __init__(self, model, claim):
        self.channel = int(claim.split()[1])
        self.delays = [scans(line)[0] for name, line in model["logic"].items() if name.startswith("late")]
        relay = model["relays"][f"relay{self.channel}"]
        self.pulls_in, self.drops_out = ([0, *scans(relay[key])][-2:] for key in ("pulls_in", "drops_out"))
        self.bound = max(1, scans(model["claims"][claim]["within"])[0] - 1)
        # What a scan leaves behind, all 0 before the first: name -> largest value.
        self.state = {}
        for i, delay in enumerate(self.delays, 1):
            self.state |= {f"count{i}": delay, f"trip{i}": 1}
        self.state |= {"contact": 1, "late": max(*self.pulls_in, *self.drops_out), "lasts": self.bound - 1}
        # What the world chooses: 0 or 1.
        self.inputs = ["key", *(f"above{i}" for i in range(1, len(self.delays) + 1)), "follows"]

    def scan(self, do, was, now):
        """What the scan leaves behind, and whether it violates the claim."""
        next_, key, run = {}, now["key"], now["key"]
        for i, delay in enumerate(self.delays, 1):
            count, hot = was[f"count{i}"], do.name(f"hot{i}", do.both(key, now[f"above{i}"]))
            late = do.both(hot, do.equal(count, delay))
            trip = do.name(f"trips{i}", do.both(key, do.either(late, was[f"trip{i}"])))
            counts = do.both(hot, do.no(trip))
            next_ |= {f"count{i}": do.choose(counts, do.next(count), do.number(0, delay)), f"trip{i}": trip}
            run = do.both(run, do.no(trip))
        run = do.name("on", run)
        coil = do.name("coil", do.both(run, do.no(next_[f"trip{self.channel}"])))
        contact, late = was["contact"], was["late"]
        pulls = do.both(do.both(coil, do.no(contact)), self.follows(do, late, now["follows"], *self.pulls_in))
        drops = do.both(do.both(contact, do.no(coil)), self.follows(do, late, now["follows"], *self.drops_out))
        closed = do.name("closed", do.choose(contact, do.no(drops), pulls))
        differs = do.choose(coil, do.no(closed), closed)
        next_ |= {"contact": closed, "late": do.choose(differs, do.next(late), do.number(0, self.state["late"]))}
        lasts = was["lasts"]
        due = do.name("due", do.equal(lasts, self.bound - 1))
        cause = do.name("cause", do.both(key, now[f"above{self.channel}"]))
        next_["lasts"] = do.choose(cause, do.choose(due, lasts, do.next(lasts)), do.number(0, self.bound - 1))
        effect = do.both(do.no(run), do.no(closed))
        return next_, do.both(do.both(cause, due), do.no(effect))

    @staticmethod
    def follows(do, late, chosen, least, most):
        for n in range(least):
            chosen = do.both(chosen, do.no(do.equal(late, n)))
        return do.either(chosen, do.equal(late, most))

    def violated(self):
        """Searches all states: whether some run violates the claim."""
        new = {tuple(0 for _ in self.state)}
        seen = set(new)
        while new:
            was = dict(zip(self.state, new.pop(), strict=True))
            for bits in itertools.product((False, True), repeat=len(self.inputs)):
                next_, violated = self.scan(Values(), was, dict(zip(self.inputs, bits, strict=True)))
                if violated:
                    return True
                state = tuple(int(next_[name]) for name in self.state)
                if state not in seen:
                    seen.add(state)
                    new.add(state)
        return False

    def blif(self):
        """A netlist with one output, on in a scan that violates the claim."""
        do = Gates()
        now = {name: do.fresh() for name in self.inputs}
        was = {name: [do.fresh() for _ in range(most.bit_length())] if most > 1 else do.fresh()
               for name, most in self.state.items()}
        next_, violated = self.scan(do, was, now)
        lines = [f".model {len(self.delays)}_channels", ".inputs " + " ".join(f"n{now[name]}" for name in now),
                 ".outputs violated"]
        buffers = []

        def buffer(to, literal):
            return [f".names {to}"] + ["1"] * literal if literal < 2 else \
                [f".names n{literal & ~1} {to}", "01"[literal & 1 ^ 1] + " 1"]

        for name in self.state:
            for bit, to in zip(*([v] if not isinstance(v, list) else v for v in (was[name], next_[name])), strict=True):
                lines.append(f".latch d{bit} n{bit} 0")
                buffers += buffer(f"d{bit}", to)
        for (a, b), out in do.gates.items():
            lines += [f".names n{a & ~1} n{b & ~1} n{out}", f"{a & 1 ^ 1}{b & 1 ^ 1} 1"]
        return "\n".join([*lines, *buffers, *buffer("violated", violated), ".end", ""])

    def promela(self):
        """A process with one step a scan. What is `hidden` belongs to no state: it is written before it is read."""
        do = Promela()
        next_, violated = self.scan(do, {name: name for name in self.state}, {name: name for name in self.inputs})
        for name, value in next_.items():
            do.name(f"next_{name}", value)
        key, *above, follows = self.inputs
        types = {name: kind(most) for name, most in self.state.items()}
        lines = [f"{types[name]} {name};" for name in self.state]
        lines += [f"bit {name};" for name in self.inputs]
        # A bit cannot be hidden.
        hidden = {name: types.get(name.removeprefix("next_"), "bit").replace("bit", "byte") for name in do.values}
        lines += [f"hidden {type_} {name};" for name, type_ in hidden.items()]
        lines += ["active proctype scan() {", "  do", "  :: atomic {"]
        lines += ["    if", f"    :: {key} = 0", f"    :: {key} = 1;"]
        lines += [f"       if :: {name} = 0 :: {name} = 1 fi;" for name in above]
        lines += ["    fi;", f"    if :: {follows} = 0 :: {follows} = 1 fi;", "    d_step {"]
        lines += [f"      {name} = {value};" for name, value in do.values.items()]
        lines += [f"      assert(!{violated});"]
        lines += [f"      {name} = next_{name};" for name in self.state]
        lines += [f"      {name} = 0;" for name in self.inputs]
        return "\n".join([*lines, "    }", "  }", "  od", "}", ""])


def kind(most):
    return "bit" if most < 2 else "byte" if most < 256 else "short" if most < 32768 else "int"
