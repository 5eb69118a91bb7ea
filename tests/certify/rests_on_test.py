"""Whatever a proof does not name may be changed in any way.

rests_on_test.py LANYARD [MODELS] [FIRST_SEED] [VARIANTS]: makes small random models with wiring. For each claim that is
proved, everything that `check` does not name as what it rests on is changed at once, several times: wires are cut or
led through a switch, switches turned round, fuses bridged, relays given other times or a hand on their contact, logic
and outputs given other definitions, loads and sources broken. The claim has to stay proved. The same is done with what
`needs` does not name, and with the times of relays that it can spare, doubled.

The source of truth is the definition in `lanyard help verdicts`, played out by the program's own verdicts; a few answers
are found by hand.
"""

import copy
import json
import pathlib
import random
import subprocess
import sys
import tempfile

LANYARD = sys.argv[1]
MODELS = int(sys.argv[2]) if len(sys.argv) > 2 else 12
FIRST = int(sys.argv[3]) if len(sys.argv) > 3 else 1
VARIANTS = int(sys.argv[4]) if len(sys.argv) > 4 else 3
FOLDER = pathlib.Path(tempfile.mkdtemp())


def run(command, model, *options):
    file, out = FOLDER / "model.json", FOLDER / "out.json"
    file.write_text(json.dumps(model, indent=1))
    out.unlink(missing_ok=True)
    done = subprocess.run([LANYARD, command, str(file), "--json", str(out), "--work", "20000000", *options],
                          capture_output=True, text=True, timeout=600)
    if not out.exists():
        raise RuntimeError(f"{command} {file}: {done.returncode} {done.stdout}{done.stderr}")
    return json.loads(out.read_text())


class Maker:
    def __init__(self, seed):
        self.dice = random.Random(seed)
        self.wires = {}
        self.parts = {"battery": "battery"}

    def wire(self, a, b):
        self.wires[f"W{len(self.wires) + 1}"] = f"{a} - {b}"

    def some(self, *of):
        return self.dice.choice(of)

    # From a node on through something to a new node.
    def along(self, at, n):
        kind = self.some("wire", "fuse", "switch", "contact", "diode", "wire")
        to = f"n{n}"
        if kind == "fuse":
            self.parts[f"F{n}"] = "fuse"
            self.wire(at, f"F{n}.in")
            self.wire(f"F{n}.out", to)
        elif kind == "switch":
            self.parts[f"S{n}"] = {"is": "switch", "switch": "maintained", "contact": self.some("make", "break")}
            self.wire(at, f"S{n}.in")
            self.wire(f"S{n}.out", to)
        elif kind == "contact" and "K1" in self.parts:
            name = self.some("K1", "K1", "K2")
            if name not in self.free_contacts:
                self.wire(at, to)
            else:
                self.free_contacts.remove(name)
                self.wire(at, f"{name}.30")
                self.wire(f"{name}.87", to)
        elif kind == "diode":
            self.parts[f"D{n}"] = "diode"
            self.wire(at, f"D{n}.anode")
            self.wire(f"D{n}.cathode", to)
        else:
            self.wire(at, to)
        return to

    def model(self):
        d = self.dice
        model = {"lanyard": 1, "name": "random", "inputs": {"sa": {"switch": "maintained"}, "sb": {"switch": "momentary"}},
                 "quantities": {"oil": "0 .. 10 bar"}, "logic": {}, "outputs": {}, "claims": {}}
        model["inputs"]["oil_sensor"] = {"senses": "oil", "accuracy": self.some("0.1 bar", "0 bar", "1 bar")}
        atoms = ["sa", "sb", "NOT sa", "oil_sensor > 3 bar", "oil_sensor < 2 bar", "TON(sb, 20 ms)"]
        for k in (1, 2, 3):
            model["logic"][f"l{k}"] = f"{d.choice(atoms)} {self.some('AND', 'OR')} {d.choice(atoms)}"
            atoms += [f"l{k}", f"NOT l{k}"]
        for k in (1, 2):
            times = [self.some("0 s", "5 .. 15 ms", "15 .. 25 ms", "20 ms") for _ in range(2)]
            self.parts[f"K{k}"] = {"is": "relay", "pulls_in": times[0], "drops_out": times[1]}
        self.free_contacts = ["K1", "K2"]
        self.wire("battery", "bus")
        self.wire("battery", "controller.plus")
        if d.random() < 0.3:
            model["engine"] = {"fires_with": ["load1"]}
            self.parts["alternator"] = {"is": "alternator", "live": self.some("sa", "oil > 1 bar", "engine = running")}
            self.wire("alternator", "n_alt")
            self.along("n_alt", 9)
            self.wire("n9", "bus")
        nodes = ["bus"]
        for n in range(1, d.randint(3, 5)):
            nodes.append(self.along(d.choice(nodes), n))
        drives = {}
        for k in (1, 2, 3):
            drives[f"o{k}"] = self.some("high side", "low side")
            model["outputs"][f"o{k}"] = {"on": d.choice(atoms), "drives": drives[f"o{k}"]}
        for k in (1, 2):
            if drives[f"o{k}"] == "low side":
                self.wire(d.choice(nodes), f"K{k}.86")
                self.wire(f"K{k}.85", f"o{k}")
            else:
                self.wire(f"o{k}", f"K{k}.86")
                self.wire(f"K{k}.85", "ground")
        for k in (1, 2, 3):
            self.parts[f"load{k}"] = self.some("load", "load", {"is": "load", "lets_through": False}, {"is": "load", "polar": True})
            self.wire(d.choice(nodes), f"load{k}.in")
            self.wire(f"load{k}.out", self.some("ground", "ground", d.choice(nodes)))
        if drives["o3"] == "high side":
            self.wire("o3", self.some("load3.in", d.choice(nodes)))
        else:
            self.wire(self.some("load3.out", "load2.out"), "o3")
        if d.random() < 0.4:
            self.parts["S8"] = {"is": "switch", "switch": "maintained"}
            self.wire(d.choice(nodes), "S8.in")
            self.wire("S8.out", self.some("ground", d.choice(nodes)))
        model["circuit"] = {"parts": self.parts, "wires": self.wires}
        things = ["load1", "load2", "load3", "K1", "K2", "o1", "o2", "o3", "l1", "sa", "sb", *nodes]
        for n in range(6):
            a, b = d.choice(things), d.choice(things)
            claim = self.some(f"{a} -> {b}", f"NOT {a} -> NOT {b}", f"NOT ({a} AND {b})", f"{a} AND sa -> {b}",
                              f"NOT sa -> NOT {a}")
            model["claims"][f"c{n}"] = {"always": claim, "under": "any"}
        model["claims"]["r"] = {"whenever": d.choice(things), "then": f"NOT {d.choice(things)}", "within": "60 ms", "under": "any"}
        return model


def expression(dice):
    return dice.choice(["TRUE", "FALSE", "sa", "NOT sb", "TON(sa, 50 ms)", "oil_sensor > 7 bar", "sa XOR sb"])


def replaced(wires, before, after):
    for name, path in wires.items():
        wires[name] = " - ".join(after if end == before else end for end in path.split(" - "))


def changed(model, named, dice):
    """The model with everything that is not named changed, and what was done."""
    m = copy.deepcopy(model)
    parts, wires = m["circuit"]["parts"], m["circuit"]["wires"]
    done = []

    def note(what):
        done.append(what)

    for section, key in (("logic", None), ("outputs", "on")):
        for name in list(m[section]):
            if name in named or dice.random() < 0.3:
                continue
            new = expression(dice)
            note(f"{name} = {new}")
            if key:
                m[section][name][key] = new
            else:
                m[section][name] = new
    for name in ("sa", "sb"):
        if name not in named and dice.random() < 0.5:
            m["inputs"][name]["contact"] = "normally closed"
            note(f"{name} turned round")
    if "oil_sensor" not in named and not any("oil_sensor" in x for x in named) and dice.random() < 0.5:
        m["inputs"]["oil_sensor"]["accuracy"] = "3 bar"
        note("the sensor's accuracy")
    for name, path in list(wires.items()):
        if name in named or dice.random() < 0.4:
            continue
        a, b = path.split(" - ")
        if dice.random() < 0.5:
            note(f"{name} cut")
            wires[name], wires[name + "x"] = f"{a} - cut_a_{name}", f"cut_b_{name} - {b}"
        else:
            note(f"{name} led through a switch")
            parts[f"X{name}"] = {"is": "switch", "switch": "maintained"}
            wires[name], wires[name + "x"] = f"{a} - X{name}.in", f"X{name}.out - {b}"
    for name, part in list(parts.items()):
        if name in named or name not in model["circuit"]["parts"] or dice.random() < 0.3:
            continue
        kind = part if isinstance(part, str) else part["is"]
        if kind == "fuse":
            note(f"{name} bridged")
            wires[name + "bridge"] = f"{name}.in - {name}.out"
        elif kind == "diode" and dice.random() < 0.7:
            note(f"{name} bridged")
            wires[name + "bridge"] = f"{name}.anode - {name}.cathode"
        elif kind == "switch":
            note(f"{name} turned round")
            part["contact"] = "break" if part.get("contact", "make") == "make" else "make"
        elif kind == "relay":
            note(f"{name} slow")
            part["pulls_in"], part["drops_out"] = "0 .. 70 ms", "0 .. 90 ms"
            if dice.random() < 0.5:
                note(f"a hand on {name}'s contact")
                parts["X" + name] = {"is": "switch", "switch": "maintained"}
                replaced(wires, f"{name}.30", f"X{name}.in")
                replaced(wires, f"{name}.87", f"X{name}.out")
        elif kind == "alternator":
            part["live"] = dice.choice(["FALSE", "TRUE", "sb"])
            note(f"alternator lives while {part['live']}")
        elif kind == "load" and dice.random() < 0.5:
            note(f"{name} broken")
            replaced(wires, f"{name}.in", f"broken_{name}")
    return m, done


def is_tautology(claim):
    """True whatever the logic does: that is vacuous, and rests on nothing."""
    return "whatever the logic does" in claim.get("reason", "")


def verdicts(report):
    return {c["id"]: c["verdict"] for c in report["claims"]}


def check_one(model, claim, named, dice, source):
    """A tautology, which rests on nothing, may wait for something else that cannot happen."""
    wrong = []
    allowed = ("proved", "undecided") if named else ("vacuous", "undecided")
    for _ in range(VARIANTS):
        other, done = changed(model, named, dice)
        other["claims"] = {claim: model["claims"][claim]}
        now = verdicts(run("check", other))[claim]
        if now not in allowed:
            wrong.append(f"{claim} ({model['claims'][claim]}) rests on {sorted(named)}, says {source}; {now} after: {done}")
            (FOLDER / "before.json").write_text(json.dumps(model, indent=1))
            (FOLDER / "after.json").write_text(json.dumps(other, indent=1))
            wrong.append(f"see {FOLDER}: before.json, after.json")
            break
    return wrong


# What a reader finds with a finger on the drawing.
STARTER = {"lanyard": 1, "name": "starter", "inputs": {"start_in": {"switch": "momentary"}},
           "outputs": {"crank": {"on": "start_in", "drives": "high side"}},
           "circuit": {"parts": {"battery": "battery", "starter": "load", "lamp": "load", "fan": "load",
                                 "sw": {"is": "switch", "switch": "maintained"}},
                       "wires": {"W1": "battery - controller.plus", "W2": "crank - starter", "W3": "starter.out - ground",
                                 "W4": "battery - bus", "W5": "bus - lamp", "W6": "lamp.out - ground",
                                 "W7": "bus - fan", "W8": "fan.out - ground", "W9": "bus - sw.in", "W10": "sw.out - ground"}}}
BY_HAND = [
    # Off: the power stage alone keeps plus away, whatever the wires do.
    ("NOT start_in -> NOT starter", {"crank", "start_in"}, {"W1", "W2", "W3", "lamp", "fan", "sw"}),
    # On: everything on the way; the fan hangs on the same bus and brings nothing.
    ("start_in AND NOT sw -> starter",
     {"crank", "start_in", "W1", "W2", "W3", "starter", "battery", "supply"}, {"lamp", "fan", "W5", "W6", "W7", "W8"}),
    # The switch shorts the bus: it has to be open.
    ("NOT sw -> lamp", {"battery", "W4", "W5", "W6", "lamp", "sw"}, {"W7", "W8", "fan", "W2", "W3", "starter"}),
]


def by_hand():
    wrong = []
    for claim, needed, free in BY_HAND:
        model = copy.deepcopy(STARTER)
        model["claims"] = {"c": {"always": claim, "under": "any"}}
        c = run("check", model)["claims"][0]
        if c["verdict"] != "proved":
            wrong.append(f"{claim}: {c['verdict']}")
            continue
        named = set(c["certificate"]["elements"]) | set(c["certificate"]["parts"])
        if not needed <= named or named & free:
            wrong.append(f"{claim}: rests on {sorted(named)}; needed {sorted(needed)}, free {sorted(free)}")
    return wrong


def main():
    wrong, proofs, short = by_hand(), 0, 0
    for seed in range(FIRST, FIRST + MODELS):
        dice = random.Random(seed * 7919)
        model = Maker(seed).model()
        found = run("check", model)
        names = len(model["circuit"]["wires"]) + len(model["circuit"]["parts"]) + 6
        for c in found["claims"]:
            if c["verdict"] != "proved" and not is_tautology(c):
                continue
            certificate = c["certificate"]
            named = set(certificate["elements"]) | set(certificate["parts"]) | set(certificate["assumptions"])
            proofs += 1
            short += len(named) < names / 2
            wrong += [f"seed {seed}: {w}" for w in check_one(model, c["id"], named, dice, "check")]
        needs = run("needs", model) if proofs else {"claims": []}
        for c in needs["claims"]:
            if c["verdict"] != "proved":
                continue
            named = {e["name"] for e in c["elements"]} | set(c["parts"])
            named |= {"oil_sensor"} if any("accuracy" in a["what"] and a["need"] != "spare" for a in c["assumptions"]) else set()
            wrong += [f"seed {seed}: {w}" for w in check_one(model, c["id"], named, dice, "needs")]
            spare = copy.deepcopy(model)
            spare["claims"] = {c["id"]: model["claims"][c["id"]]}
            for a in c["assumptions"]:
                if a["need"] != "spare" or not a["what"].startswith("times of "):
                    continue
                relay = spare["circuit"]["parts"][a["what"].split()[2]]
                relay["pulls_in"], relay["drops_out"] = (
                    {"0 s": "0 s", "5 .. 15 ms": "5 .. 30 ms", "15 .. 25 ms": "15 .. 50 ms", "20 ms": "40 ms"}[relay[k]]
                    for k in ("pulls_in", "drops_out"))
            if verdicts(run("check", spare))[c["id"]] not in ("proved", "undecided"):
                wrong.append(f"seed {seed}: {c['id']} needs the relay times that `needs` can spare")
    if proofs < MODELS:
        wrong.append(f"only {proofs} proofs in {MODELS} models: the generator makes nothing to test")
    if 3 * short < proofs:
        wrong.append(f"only {short} of {proofs} proofs name less than half of the car")
    print("\n".join(wrong) or f"{proofs} proofs, {short} of them name less than half of the car: nothing else matters")
    return 1 if wrong else 0


sys.exit(main())
