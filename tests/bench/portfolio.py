"""portfolio.py LANYARD MODEL... [--work N] [--limit SECONDS] [--data FILE]

What each prover needs for each question of the models, and which rounds would have cost least.

Each model is checked twice, by the directed prover and by the lemmas alone (bounded search always works beside them),
and the log is read: units and processor seconds of each turn, and whether it answered. From these turns the cost of any
rounds is worked out without running them: the budget of the first round, its growth, the part of it that bounded search
gets, and the budgets from which the lemmas join, for procedures and for all other claims. Printed are the questions'
needs, the rounds that cost least over all of them, and, for each model left out, what the rounds that are best without
it cost on it: that is what a model costs that had no say in the choice. The rounds of src/prove/ask.cpp and
provers.cpp are what this says; run it again after a change of a prover.

--data FILE keeps the measurements, and takes them from there if it exists.
"""
import argparse
import itertools
import json
import pathlib
import re
import subprocess
import tempfile

LINE = re.compile(r"\d\d:\d\d:[\d.]+ \w+ +\[\d+\] (.*)")
QUERY = re.compile(r"(.*?): (bounded|directed|lemmas): query.*?: \w+, (\d+)")
TURN = re.compile(r"(.*?): (bounded|directed|lemmas): (.*), up to (\d+) units, ([\d.]+) s$")
ASIDE = re.compile(r"exercise|ordinary run|playbook|told")
WON = ("reached", "an invariant")


def turns_of(lanyard, model, prover, work, limit):
    """{question: {prover: [[units, seconds, won]]}}"""
    with tempfile.TemporaryDirectory() as folder:
        log = pathlib.Path(folder) / "log"
        try:
            subprocess.run([lanyard, "check", model, "--jobs", "1", "--prover", prover, "--work", str(work), "--log",
                            str(log), "--log-level", "trace"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                           timeout=limit)
        except subprocess.TimeoutExpired:
            pass
        found, spent = {}, {}
        for line in log.read_text(encoding="utf-8", errors="replace").splitlines() if log.exists() else ():
            text = LINE.match(line)
            if not text or ASIDE.search(text[1]):
                continue
            if query := QUERY.match(text[1]):
                spent[query[1], query[2]] = spent.get((query[1], query[2]), 0) + int(query[3])
            elif turn := TURN.match(text[1]):
                found.setdefault(turn[1], {}).setdefault(turn[2], []).append(
                    [spent.pop((turn[1], turn[2]), 0), float(turn[5]), turn[3].startswith(WON)])
        return found


def questions_of(options, model):
    """What each prover needs for each of the model's questions: units, seconds of that, seconds for a unit."""
    procedures = {name for name, claim in json.loads(pathlib.Path(model).read_text(encoding="utf-8"))
                  .get("claims", {}).items() if {"procedure", "starts", "can_restart_when_hot"} & set(claim)}
    alone = {p: turns_of(options.lanyard, model, p, options.work, options.limit) for p in ("directed", "lemmas")}
    for name in alone["directed"].keys() | alone["lemmas"].keys():
        needs = {}
        for prover in ("bounded", "directed", "lemmas"):
            turns = [t for of in alone.values() for t in of.get(name, {}).get(prover, [])]
            own = alone[prover if prover != "bounded" else "directed"].get(name, {}).get(prover, [])
            if not turns:
                continue
            units, seconds = sum(t[0] for t in turns), sum(t[1] for t in turns)
            won = bool(own) and own[-1][2]
            # What goes on where it was has spent the turns before as well; the directed prover begins anew.
            last = own[-1:] if prover == "directed" else own
            needs[prover] = {"units": sum(t[0] for t in last) if won else None,
                             "seconds": sum(t[1] for t in last) if won else None,
                             "rate": seconds / max(units, 1), "first": turns[0][1] if prover == "lemmas" else 0}
        yield {"model": pathlib.Path(model).name, "question": name, "needs": needs,
               "procedure": any(f"'{p}'" in name for p in procedures), "demand": name.endswith("demand")}


def cost(question, rounds):
    first, growth, share, lemmas, lemmas_of_procedures = rounds
    start = lemmas_of_procedures if question["procedure"] else lemmas
    done, total, budget = {"bounded": 0, "lemmas": 0}, 0.0, first
    for _ in range(30):
        for prover in ("bounded", "directed", "lemmas"):
            need = question["needs"].get(prover)
            if need is None or (question["demand"] and prover != "bounded") or (prover == "lemmas" and budget < start):
                continue
            units = budget // share if prover == "bounded" else budget
            spent = done.get(prover, 0)
            if need["units"] is not None and need["units"] <= spent + units:
                return total + max(0.0, need["seconds"] - spent * need["rate"])
            total += units * need["rate"] + (need["first"] if spent == 0 else 0)
            if prover in done:
                done[prover] += units
        budget *= growth
        if budget > 10**8:
            break
    return total


ROUNDS = list(itertools.product((25_000, 50_000, 100_000, 200_000), (2, 3, 4, 6, 8), (1, 2, 4, 8, 16),
                                (100_000, 200_000, 400_000, 800_000, 1_600_000), (50_000, 100_000, 200_000, 400_000)))


def best(questions):
    return min(ROUNDS, key=lambda rounds: (sum(cost(q, rounds) for q in questions), rounds))


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("lanyard")
    parser.add_argument("models", nargs="*")
    parser.add_argument("--work", type=int, default=6_000_000)
    parser.add_argument("--limit", type=float, default=240)
    parser.add_argument("--data", type=pathlib.Path)
    options = parser.parse_args()
    if options.data and options.data.exists():
        questions = json.loads(options.data.read_text(encoding="utf-8"))
    else:
        questions = [q for model in options.models for q in questions_of(options, model)]
        if options.data:
            options.data.write_text(json.dumps(questions, indent=1), encoding="utf-8")
    print("thousands of units and processor seconds that each prover needs; -: not within the limit")
    for q in questions:
        cells = []
        for prover in ("bounded", "directed", "lemmas"):
            need = q["needs"].get(prover)
            known = need and need["units"] is not None
            cells.append(f"{need['units'] / 1000:8.0f} {need['seconds']:6.2f}" if known else f"{'-':>8} {'':6}")
        print(" ".join(cells), f" {q['model']}: {q['question']}")
    answered = [q for q in questions if any(n["units"] is not None for n in q["needs"].values())]
    told = "first {}, growth {}, bounded 1/{}, lemmas from {}, of procedures from {}"
    now = (50_000, 2, 2, 400_000, 400_000)
    print(f"\n{len(answered)} questions that were answered; seconds:")
    least = sum(min(n["seconds"] for n in q["needs"].values() if n["seconds"] is not None) for q in answered)
    print(f"{least:8.2f}  the best prover for each question, asked at once")
    for rounds in (now, best(answered)):
        print(f"{sum(cost(q, rounds) for q in answered):8.2f}  " + told.format(*rounds))
    models = sorted({q["model"] for q in answered})
    out = 0.0
    for model in models:
        rounds = best([q for q in answered if q["model"] != model])
        own = sum(cost(q, rounds) for q in answered if q["model"] == model)
        out += own
        print(f"  {model}: {own:.2f} s with the rounds that are best without it: " + told.format(*rounds))
    print(f"{out:8.2f}  all of them, each with the rounds that are best without it")


if __name__ == "__main__":
    main()
