"""family.py N {safe|defect} [TIMER | lock-out | start]

A model of N channels, each with a comparator, an on-delay, a latch, a relay and a claim: a value that stays too high
cuts the common output and the channel's own relay in time. In the defective twin the delay of one channel is two scans
longer than its claim allows. TIMER is the delay, in whole seconds ("1 s").

lock-out: N trips that one button resets, and the claim that nothing locks out; in the defective twin one trip hears no
button. start: a procedure that starts with N permissives, each with a delay; in the defective twin one is too slow.
"""
import json
import sys


def channel_names(count):
    return [f"channel {i} cuts" for i in range(1, count + 1)]


def claim_of(count):
    """The claim that is measured: of the channel that is planted with the defect."""
    return channel_names(count)[(count - 1) // 2]


def family(count, defect, seconds=1):
    planted = (count - 1) // 2 + 1
    model = {
        "lanyard": 1,
        "name": f"{count} channels, {'one too slow' if defect else 'all in time'}, {seconds:g} s",
        "quantities": {},
        "inputs": {"key": "maintained"},
        "logic": {},
        "outputs": {},
        "relays": {},
        "claims": {},
    }
    for i in range(1, count + 1):
        milliseconds = round(seconds * 1000) + (20 if defect and i == planted else 0)
        model["quantities"][f"t{i}"] = "0 .. 200 degC"
        model["inputs"][f"s{i}"] = {"senses": f"t{i}"}
        model["logic"][f"late{i}"] = f"TON(key AND s{i} > {100 + i} degC, {milliseconds} ms)"
        model["logic"][f"trip{i}"] = f"RS(late{i}, NOT key)"
        model["outputs"][f"valve{i}"] = {"on": f"run AND NOT trip{i}", "relay": f"relay{i}"}
        model["relays"][f"relay{i}"] = {"pulls_in": "20 ms", "drops_out": "10 .. 20 ms"}
    model["outputs"]["run"] = "key AND NOT (" + " OR ".join(f"trip{i}" for i in range(1, count + 1)) + ")"
    for i, name in enumerate(channel_names(count), 1):
        # The delay, one scan of the timer, the relay's 20 ms; sampling and output count two scans.
        model["claims"][name] = {
            "whenever": f"key AND t{i} > {100 + i} degC",
            "then": f"NOT run AND NOT relay{i}",
            "within": f"{round(seconds * 1000) + 50} ms",
        }
    return model


def planted(count):
    return (count - 1) // 2 + 1


def lock_out(count, defect):
    model = {"lanyard": 1, "name": f"{count} trips, {'one that stays' if defect else 'all reset'}",
             "quantities": {}, "inputs": {"key": "maintained", "reset": "momentary"}, "logic": {}}
    for i in range(1, count + 1):
        model["quantities"][f"t{i}"] = {"range": "0 .. 200 degC", "healthy": "20 .. 90 degC"}
        reset = "FALSE" if defect and i == planted(count) else "reset"
        model["logic"][f"trip{i}"] = f"SR(t{i} > {100 + i % 50} degC, {reset})"
    model["outputs"] = {"run": "key AND NOT (" + " OR ".join(model["logic"]) + ")"}
    model["claims"] = {"no lock-out": {"recoverable": "run"}}
    return model


def start(count, defect):
    model = {"lanyard": 1, "name": f"{count} permissives, {'one too slow' if defect else 'all in time'}",
             "quantities": {}, "inputs": {"key": "maintained", "start": "momentary"}, "logic": {}}
    for i in range(1, count + 1):
        model["quantities"][f"t{i}"] = {"range": "0 .. 200 degC", "healthy": "20 .. 90 degC"}
        delay = "2 s" if defect and i == planted(count) else "0.5 s"
        model["logic"][f"ready{i}"] = f"TON(key AND t{i} < {100 + i % 50} degC, {delay})"
    model["outputs"] = {"starter": "start AND " + " AND ".join(model["logic"])}
    model["claims"] = {"it cranks": {"procedure": ["set key", "wait 1 s", "hold start for 0.5 s"],
                                     "ends_with": "starter"}}
    return model


def with_faults(count, under="any"):
    """A valve that two switches in a row cut, on a wire of which `count` pieces may break off onto battery: those before
    the second switch defeat the first one, those behind it feed the valve. Claim: both off, valve off."""
    before = count // 2
    # The faults are first.1.to_battery .. and second.1.to_battery ..
    first = [f"a{i}" for i in range(1, before)]
    second = [f"b{i}" for i in range(1, count - before)]
    kinds = ["wire.open", "wire.to_ground", "switch.stuck_off", "switch.stuck_on", "switch.bounces", "load.open",
             "controller.resets", "controller.dead"]
    return {
        "lanyard": 1, "name": f"{count} faults",
        "circuit": {
            "parts": {"battery": "battery", "valve": "load",
                      "one": {"is": "switch", "switch": "maintained"}, "two": {"is": "switch", "switch": "maintained"}},
            "wires": {"supply": "battery - one.in", "first": " - ".join(["one.out", *first, "two.in"]),
                      "second": " - ".join(["two.out", *second, "valve.in"]), "return": "valve.out - ground"}},
        "faults": {**{f"any {kind}": "never" for kind in kinds}, "return.to_battery": "never"},
        "claims": {"off": {"whenever": "NOT one AND NOT two", "then": "NOT valve", "within": "50 ms",
                           "under": under}}}


if __name__ == "__main__":
    if sys.argv[3:] in (["lock-out"], ["start"]):
        make = lock_out if sys.argv[3] == "lock-out" else start
        print(json.dumps(make(int(sys.argv[1]), sys.argv[2] == "defect"), indent=1))
        sys.exit()
    timer = int(sys.argv[3].split()[0]) if len(sys.argv) > 3 else 1
    print(json.dumps(family(int(sys.argv[1]), sys.argv[2] == "defect", timer), indent=1))
