"""page_test.py LANYARD MODEL...

The report of each model, read back without a browser:

  form       xmllint (Debian: libxml2-utils) and Python's XML reader take it as XML; no identifier stands twice, and
             every reference has its target in the page or in the folder beside it
  card       the bench card beside it is that of `lanyard card`, and the page leads to it; of a model with nothing to set
             it is said that there is none
  closed     nothing in it asks for another resource: no source, no address, no url()
  policy     the hashes of its content security policy (https://www.w3.org/TR/CSP3/) are those of its one style and its
             one script; nothing else could run: no handler, no style attribute
  text       what a model's names hold is text: one script element, no element that is not ours
  access     one h1, no level of headings left out; tables have captions, drawings titles, the slider a label
  same       a second run writes the same bytes, with one thread or two
  verdicts   those of the JSON file beside it, in its order
  others     of a claim of which further runs were looked for: that there are none
  summary    in front: each claim that is not proved, with what to do and to measure; the rest as annexes
  power      in the wiring, at each moment: whatever is lit leads from a source that is lit to something that works, and
             a ground sign names the wire of its own part; one inside of the controller names none
  words      a row says "pressed", "pulled in", "powered", as the story does
  limits     a row of a number has the limits that this very signal is compared with, and each has a label
  faults     only faults that matter have a row, with where a wire runs; the others are counted
  causes     the timing diagram of a refutation has a star for each choice that the JSON file calls a cause: in its row,
             at its time, with the words of the story
"""

import base64
import hashlib
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ET

problems = []

OURS = set("""html head meta title style script body a header p h1 h2 h3 h4 ul ol li b dl dt dd div span bdi nav main
section article table caption thead tbody tr th td details summary label button input output footer pre code strong em
svg g line rect path text circle ellipse""".split())


def expect(good, text):
    if not good:
        problems.append(text)


def report(lanyard, model, folder, *more):
    done = subprocess.run([lanyard, "report", model, "--out", folder, *more], capture_output=True, text=True, timeout=300)
    expect(done.returncode in (0, 10, 20), f"{model}: {done.returncode} {done.stderr}")
    return folder / "report.html"


def tree_of(page):
    """Of a page that was read from its file, without <!DOCTYPE html>."""
    return ET.fromstring(page.split("\n", 1)[1])


def page_of(lanyard, model, folder, name):
    return tree_of(report(lanyard, model, pathlib.Path(folder) / name).read_text(encoding="utf-8"))


def drawing_of(element, kind):
    return next(e for e in element.iter("svg") if e.get("class") == kind)


def written(model, folder):
    path = pathlib.Path(folder) / f"{model['name']}.json"
    path.write_text(json.dumps(model), encoding="utf-8")
    return path


def words(element):
    return re.sub(r"\s+", " ", "".join(element.itertext())).strip()


def check_form(name, page, path):
    done = subprocess.run(["xmllint", "--noout", path], capture_output=True, text=True)
    expect(done.returncode == 0, f"{name}: {done.stderr[:500]}")
    ids = [e.get("id") for e in page.iter() if e.get("id")]
    expect(len(ids) == len(set(ids)), f"{name}: an identifier stands twice")
    for e in page.iter():
        for key in ("aria-labelledby", "for"):
            expect(e.get(key) is None or e.get(key) in ids, f"{name}: {key} {e.get(key)} leads nowhere")
        href = e.get("href")
        expect(href is None or (href[1:] in ids if href[0] == "#" else href in os.listdir(path.parent)),
               f"{name}: {href} leads nowhere")


def check_closed(name, page, text):
    for e in page.iter():
        for key in e.keys():
            expect(key not in ("src", "srcset", "style", "action", "data", "poster") and not key.startswith("on"),
                   f"{name}: {e.tag} has {key}")
        expect(e.tag in OURS, f"{name}: there is an element {e.tag}")
        expect(e.tag not in ("link", "img", "iframe", "object", "embed", "base"), f"{name}: there is {e.tag}")
    for e in [*page.iter("style"), *page.iter("script")]:
        for word in ("http:", "https:", "url(", "@import", "import(", "fetch(", "eval(", "innerHTML"):
            expect(word not in e.text, f"{name}: {word} in {e.tag}")
    for mark in "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f":
        expect(mark not in text, f"{name}: U+{ord(mark):04X} in the page")


def check_policy(name, page):
    metas = [m for m in page.iter("meta") if m.get("http-equiv") == "Content-Security-Policy"]
    expect(len(metas) == 1, f"{name}: no policy")
    rules = dict(r.strip().split(" ", 1) for r in metas[0].get("content").split(";"))
    expect(rules["default-src"] == "'none'", f"{name}: {rules}")
    for kind in ("style", "script"):
        found = list(page.iter(kind))
        expect(len(found) == 1, f"{name}: {len(found)} elements {kind}")
        digest = base64.b64encode(hashlib.sha256(found[0].text.encode()).digest()).decode()
        expect(rules[kind + "-src"] == f"'sha256-{digest}'", f"{name}: the hash of {kind} is another one")


def check_access(name, page):
    levels = [int(e.tag[1]) for e in page.iter() if re.fullmatch(r"h[1-6]", e.tag)]
    expect(levels.count(1) == 1 and levels[0] == 1, f"{name}: headings {levels}")
    expect(all(b <= a + 1 for a, b in zip(levels, levels[1:])), f"{name}: a level is left out: {levels}")
    for table in page.iter("table"):
        expect(table[0].tag == "caption" and words(table[0]), f"{name}: a table without a caption")
    for drawing in page.iter("svg"):
        expect(drawing[0].tag == "title" and words(drawing[0]) and drawing.get("role") == "img",
               f"{name}: a drawing without a title")
    labels = {e.get("for") for e in page.iter("label")}
    for slider in page.iter("input"):
        expect(slider.get("id") in labels, f"{name}: a slider without a label")
    expect(page.get("lang") == "en", f"{name}: no language")


def check_verdicts(name, page, folder):
    told = json.loads((folder / "verdicts.json").read_text(encoding="utf-8"))
    table = next(t for t in page.iter("table") if t.get("class") == "verdicts")
    shown = [words(row[1])[1:] for row in table.find("tbody")]
    expect(shown == [c["verdict"] for c in told["claims"]], f"{name}: verdicts {shown}")
    sections = [e.get("id") for e in page.iter("section")]
    front = [e.get("id") for e in next(d for d in page.iter("div") if d.get("class") == "front").iter("section")]
    expect(front[0] == "summary" and sections[len(front)] == "verdicts", f"{name}: {front}, then {sections}")
    titles = [words(e.find("h2")) for e in page.iter("section")][len(front):]
    expect(all(t.startswith(f"Annex {chr(65 + k)}: ") for k, t in enumerate(titles)), f"{name}: {titles}")
    short = page.find(".//section[@id='summary']")
    open_ones = [words(r[0])[1:] for t in short.iter("table") for r in t.find("tbody")]
    expect(open_ones == [v for v in shown if v != "proved"][:16], f"{name}: the summary has {open_ones}")
    links = [e.get("href") for e in short.iter("a")]
    expect(len(set(links)) == len(links) and len(links) >= min(len(shown), 16), f"{name}: the summary leads to {links}")
    refuted = [c for c in told["claims"] if c["verdict"] == "refuted" and "run" in c]
    drawings = [e for e in page.find(".//section[@id='broken']").iter("svg") if e.get("class") == "diagram"]
    expect(len(drawings) >= len(refuted), f"{name}: {len(drawings)} diagrams of {len(refuted)} runs")
    expect(told["model"]["sha256"] in words(page), f"{name}: the hash of the model is not told")
    late = any(c["kind"] == "response" and "run" in c for c in refuted)
    notes = words(page.find(".//section[@id='broken']")).count("The time of a response counts") if refuted else 0
    expect(notes == int(late), f"{name}: the note on times is there {notes} times")


def points(way):
    return re.findall(r"[ML](\d+ \d+)", way)


def lit_at(group, moment):
    states = group.get("data-s")
    return states[moment] == "2" if states else "s2" in group.get("class").split()


def check_power(name, page):
    """How many lit ends were looked at: each goes on in something that is lit."""
    looked = 0
    for drawing in page.iter("svg"):
        if drawing.get("class") != "scheme":
            continue
        groups = [g for g in drawing.iter("g") if g.get("class", "").split()[0] in ("part", "trunk")]
        for moment in range(max(len(g.get("data-s", "0")) for g in groups)):
            ends = []
            for g in groups:
                if not lit_at(g, moment):
                    continue
                flow = [p.get("d") for p in g.iter("path") if p.get("class") == "flow"]
                root = [p.get("d") for p in g.iter("path") if p.get("class") == "lead"][-1:]
                all_points = points((flow or root)[0])
                is_end = any(p.get("class") == "tail" for p in g.iter("path"))
                is_trunk = g.get("class").startswith("trunk")
                ends += all_points if is_trunk else [all_points[-1]] if not flow else [all_points[0]] + (
                    [all_points[-1]] if len(all_points) == 4 and not is_end else [])
            for end in ends:
                expect(ends.count(end) > 1, f"{name}, moment {moment}: the lit line at {end} ends nowhere")
            looked += len(ends)
    return looked


def wired_model(folder, name, wires, parts, **more):
    model = {"lanyard": 1, "name": name, "inputs": {"key": "maintained"},
             "outputs": {"feed": {"on": "key", "drives": "high side"}},
             "circuit": {"parts": {"battery": "battery", **parts}, "wires": wires}, **more}
    return str(written(model, folder))


def check_grounds(lanyard, folder):
    """Two lamps share a splice and a ground point; each names its own wire, then the point."""
    model = wired_model(folder, "star", {"W1": "battery - controller.plus", "W2": "feed - left - star",
                                         "W3": "feed - right - star", "W4": "star - G1"},
                        {"left": "load", "right": "load", "G1": "ground"},
                        claims={"dark": {"always": "NOT (left AND right)"}})
    page = page_of(lanyard, model, folder, "star")
    labels = [words(t) for t in page.iter("text") if t.get("class") == "net-name"]
    expect("W2.2, G1" in labels and "W3.2, G1" in labels, f"the grounds are called {labels}")
    model = wired_model(folder, "sink", {"W1": "battery - controller.plus", "W2": "battery - lamp - low",
                                         "W3": "battery - fan - ground"}, {"lamp": "load", "fan": "load"},
                        outputs={"low": {"on": "key", "drives": "low side"}},
                        claims={"dark": {"always": "NOT (lamp AND fan)"}})
    page = page_of(lanyard, model, folder, "sink")
    labels = [words(t) for t in page.iter("text") if t.get("class") == "net-name"]
    expect(labels == ["W3.2"], f"the grounds of lamp and fan are called {labels}")
    model = wired_model(folder, "far", {"W1": "battery - controller.plus", "W2": "feed - lamp - gearbox_left_bolt"},
                        {"lamp": "load", "gearbox_left_bolt": "ground"}, claims={"dark": {"always": "NOT lamp"}})
    page = page_of(lanyard, model, folder, "far")
    drawing = drawing_of(page, "scheme")
    label = next(t for t in drawing.iter("text") if t.get("class") == "net-name")
    expect((words(label[0]), label[0].tail) == ("W2.2, gearbox_left_bolt", "W2.2, gearb\u2026"), f"far: {words(label)}")
    room = int(drawing.get("viewBox").split()[2]) - int(label.get("x"))
    expect(7 * len(label[0].tail) <= room, f"far: the name of a ground is cut off after {room}")


def check_limits(lanyard, folder):
    """`late` is behind the speed, `now` is the speed: each row has its own limits, near ones in one label."""
    model = {"lanyard": 1, "name": "limits", "scan": "10 ms", "quantities": {"engine_speed": "0 .. 9000 rpm"},
             "inputs": {"now": {"senses": "engine_speed"}, "late": {"senses": "engine_speed", "delay": "50 ms"}},
             "outputs": {"lamp": "now < 400 rpm", "fast": "late > 3300 rpm"},
             "claims": {"one": {"always": "NOT (lamp AND fast AND engine_speed < 410 rpm AND late < 9000 rpm)"}}}
    path = written(model, folder)
    page = page_of(lanyard, path, folder, "limits")
    drawing = drawing_of(page, "diagram")
    rows = {}
    for g in (g for g in drawing if g.tag == "g" and g.get("class") is None):
        texts = {kind: [words(t) for t in g.iter("text") if t.get("class", "").split()[0] == kind] for kind in ("name", "limit")}
        lines = sum(e.get("class") == "threshold" for e in g.iter("line"))
        if lines:
            rows[texts["name"][0]] = (lines, texts["limit"])
    expect(rows == {"now (engine_speed)": (2, ["400 rpm, 410 rpm"]), "late": (2, ["3300 rpm", "9000 rpm"])},
           f"the limits are {rows}")


def check_words(lanyard, folder):
    """A row says what its signal is in the words of the story."""
    model = {"lanyard": 1, "name": "words", "inputs": {"start": "momentary"},
             "outputs": {"run": {"on": "start", "relay": "K1"}},
             "relays": {"K1": {"pulls_in": "30 ms", "drops_out": "30 ms", "feeds": ["pump"]}},
             "claims": {"dry": {"always": "NOT (pump AND NOT start)"}}}
    path = written(model, folder)
    page = page_of(lanyard, path, folder, "words")
    drawing = drawing_of(page, "diagram")
    rows = {}
    for g in (g for g in drawing if g.tag == "g" and g.get("class") is None):
        texts = {t.get("class").split()[0]: t for t in g.iter("text")}
        rows[words(texts["name"])] = texts["value"].get("data-w", words(texts["value"]))
    expect(rows == {"start": "pressed|not pressed", "run": "on|off", "K1": "pulled in", "pump": "powered"},
           f"the words are {rows}")
    model = wired_model(folder, "dead", {"W1": "battery - live", "W2": "battery - main - controller.plus"},
                        {"main": {"is": "switch", "switch": "maintained"}}, inputs={"live": {"reads": "plus"}},
                        outputs={"lamp": "live"}, claims={"seen": {"always": "NOT (live AND NOT main)"}})
    page = page_of(lanyard, model, folder, "dead")
    drawing = drawing_of(page, "scheme")
    states = [words(t) for t in drawing.iter("text") if t.get("class") == "state"]
    expect("not read" in states, f"of a controller without power is told: {states}")


def check_faults(lanyard, folder):
    model = wired_model(folder, "lamp", {"W1": "battery - F1 - controller.plus", "W2": "feed - lamp - ground",
                                         "W3": "feed - fan - ground"}, {"F1": "fuse", "lamp": "load", "fan": "load"},
                        claims={"dark": {"always": "NOT key -> NOT lamp"}})
    page = report(lanyard, model, pathlib.Path(folder) / "lamp", "--faults").read_text(encoding="utf-8")
    section = tree_of(page).find(".//section[@id='faults']")
    rows = {words(r[0]): words(r[2]) for t in section.iter("table") if t.get("class") == "faults" for r in t.find("tbody")}
    short = "W2.1.to_battery" + "the wire W2.1 from feed to lamp is shorted to battery plus"
    expect(rows.get(short) == "dark", f"the faults that matter are {rows}")
    expect(not any(r.startswith("F1.open") for r in rows), "a blown fuse breaks nothing here")
    expect(any(" more: " in words(p) for p in section.iter("p")), "the other faults are not counted")
    expect("W2.1.to_battery, from feed to lamp" in words(section), "the sets do not say where the wire runs")


def check_card(lanyard, name, model, page, folder):
    for form in ("text", "csv", "html"):
        done = subprocess.run([lanyard, "card", model, "--format", form], capture_output=True, timeout=300)
        file = folder / ("card." + {"text": "txt"}.get(form, form))
        expect(done.returncode in (0, 20) and done.stdout == file.read_bytes(), f"{name}: another {file.name}")
    told = words(page.find(".//section[@id='bench']"))
    links = {e.get("href") for e in page.iter("a") if e.get("href")[0] != "#"}
    empty = "There is no bench card" in (folder / "card.txt").read_text(encoding="utf-8")
    expect(empty or name != "nothing-to-set", f"{name}: a card of a model with nothing to set")
    expect(not empty or name != "hostile", f"{name}: no card")
    expect(links == (set() if empty else {"card.html", "card.csv", "card.txt"}), f"{name}: links {links}")
    expect(("There is no bench card" in told) == empty, f"{name}: of the card is told: {told}")


def small_model(folder):
    model = {"lanyard": 1, "name": "nothing to set", "outputs": {"lamp": {"on": "TRUE"}},
             "claims": {"lit": {"always": "lamp"}, "dark": {"always": "NOT lamp"}}}
    path = pathlib.Path(folder) / "nothing-to-set.json"
    path.write_text(json.dumps(model), encoding="utf-8")
    return path


def check_causes(name, page, folder):
    """How many stars there are."""
    told = json.loads((folder / "verdicts.json").read_text(encoding="utf-8"))
    stars = 0
    for number, claim in enumerate(told["claims"], 1):
        run = next((d for d in page.iter("div") if d.get("id") == f"run-{number}"), None)
        if run is None or "causes" not in claim:
            continue
        list_ = [c for c in claim["causes"]["list"] if not c.get("presupposed")]  # which gets no star
        parts = {(p["what"], p["scan"]): p for c in list_ for p in c["parts"]}
        drawing = drawing_of(run, "diagram")
        marks = [g for g in drawing.iter("g") if g.get("class") == "star"]
        where = f"{name}, {claim['id']}"
        expect(len(marks) == len(parts), f"{where}: {len(marks)} stars of {len(parts)} causes")
        stars += len(marks)
        cursor = next(g for g in drawing.iter("g") if g.get("class") == "cursor")
        places = cursor.get("data-x").split()
        rows = [words(r[0]) for r in run.iter("tr") if r.get("class") != "gap" and r[0].get("scope") == "row"]
        told_rows = [words(r) for r in run.iter("tr") if r.get("class") != "gap" and r[0].get("scope") == "row"]
        # A rule is below each row.
        ends = [(int(g[0].get("y1")), words(next(t for t in g if t.get("class", "").startswith("name"))))
                for g in drawing if g.tag == "g" and g.get("class") is None]
        for (what, _), part in parts.items():
            time = f"{float(part['time_s']):.2f} s"
            at = [k for k, row in enumerate(rows) if row == time]
            expect(at and "*" in told_rows[at[0]], f"{where}: no moment says {what} at {time}")
            found = [m for m in marks if words(m[0]).startswith("This is why: ") and f"{what} at {time}" in words(m[0])]
            expect(len(found) == 1, f"{where}: {len(found)} stars say {what} at {time}")
            for mark in found:
                x, y = re.fullmatch(r"translate\((\d+) (\d+)\)", mark.get("transform")).groups()
                expect(at and x == places[at[0]], f"{where}: {what} is not at {time}")
                row = next(name for end, name in ends if end > int(y))
                expect(part.get("signal", row) in row, f"{where}: {what} is in the row of {row}")
        legend = words(next(p for p in run.iter("p") if p.get("class") == "legend"))
        expect(("A star" in legend) == bool(marks), f"{where}: the legend is {legend}")
    return stars


def many_causes(folder):
    """More switches than are drawn, each of them a cause; a relay that is slow."""
    inputs = {f"s{k}": "maintained" for k in range(1, 21)}
    slow = {"lanyard": 1, "name": "slow", "inputs": {**inputs, "kill": "maintained"},
            "outputs": {"lamp": " AND ".join(inputs), "run": {"on": "NOT kill", "relay": "K1"}},
            "relays": {"K1": {"pulls_in": "0 .. 10 ms", "drops_out": "0 .. 50 ms", "feeds": ["pump"]}},
            "claims": {"dark": {"always": "NOT lamp"},
                       "off": {"whenever": "kill", "then": "NOT pump", "within": "40 ms"}}}
    path = pathlib.Path(folder) / "causes.json"
    path.write_text(json.dumps(slow), encoding="utf-8")
    return str(path)


def check_others(lanyard, folder):
    """That there are no other runs is said where others were looked for."""
    model = {"lanyard": 1, "name": "both", "inputs": {"a": "maintained", "b": "maintained"},
             "outputs": {"lamp": "a AND b"}, "claims": {"dark": {"always": "NOT lamp"}}}
    path = written(model, folder)
    sentence = "every run that violates the claim has all of these causes, at one time or another"
    for more in ([], ["--counterexamples", "3"]):
        page = report(lanyard, str(path), pathlib.Path(folder) / f"both-{len(more)}", *more)
        told = [words(e) for e in tree_of(page.read_text(encoding="utf-8")).iter("div")
                if e.get("class") == "passage"]
        expect(("no other run" + sentence in told) == bool(more), f"other runs, {more}: {told}")


def large_model(folder):
    """Texts as long as a model may have them, 100000 bytes, of characters that mean something somewhere."""
    long = ("<b>&\"'\u202e\U0001F527 " + "w " * 50000)[:99980]
    model = {"lanyard": 1, "name": "large", "note": long, "inputs": {"key": {"switch": "maintained"}},
             "outputs": {"inj": " AND ".join(["key"] * 12400)},
             "claims": {"kept": {"always": "inj -> key", "note": long}, "broken": {"always": "NOT inj"}}}
    return str(written(model, folder))


def main():
    lanyard, *models = sys.argv[1:]
    with tempfile.TemporaryDirectory() as scratch:
        models += [large_model(scratch), small_model(scratch), many_causes(scratch)]
        stars, lit, pages = {}, {}, {}
        for model in models:
            name = pathlib.Path(model).stem
            folder = pathlib.Path(scratch) / name
            path = report(lanyard, model, folder)
            text = path.read_text(encoding="utf-8")
            page = tree_of(text)
            expect(text.startswith("<!DOCTYPE html>\n"), f"{name}: no document type")
            pages[name] = page
            check_form(name, page, path)
            check_closed(name, page, text)
            check_policy(name, page)
            check_access(name, page)
            check_verdicts(name, page, folder)
            check_card(lanyard, name, model, page, folder)
            stars[name] = check_causes(name, page, folder)
            lit[name] = check_power(name, page)
            if name.startswith("magneto"):
                drawn = [words(e) for e in page.iter("svg") if e.get("class") == "scheme"]
                expect(any("mag" in d and "sparks" in d for d in drawn), f"{name}: the magneto is not drawn")
            again = report(lanyard, model, pathlib.Path(scratch) / (name + "-again"), "--jobs", "1")
            expect(again.read_bytes() == path.read_bytes(), f"{name}: a second run writes another page")
        legend = next(words(p) for p in pages["causes"].iter("p") if p.get("class") == "legend")
        expect("Not drawn for want of room: lamp." in legend, f"what is not drawn is not named: {legend}")
        check_grounds(lanyard, scratch)
        check_limits(lanyard, scratch)
        check_words(lanyard, scratch)
        check_faults(lanyard, scratch)
        check_others(lanyard, scratch)
    expect(lit["alternator-backfeed"] > 20, f"the alternator lights {lit}")
    expect(stars["causes"] == 21, f"of 20 switches and a relay there are {stars['causes']} stars")
    expect(stars["key-cycle-no-reset"] > 0, "the cause of a trap has no star")
    print("\n".join(problems) or "every page is closed, well-formed and the same twice")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
