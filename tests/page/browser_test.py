"""browser_test.py LANYARD

What the report does in a browser (Debian: chromium, chromium-driver), driven by WebDriver (webdriver.py).
"""

import json
import pathlib
import re
import subprocess
import sys
import tempfile

from webdriver import Browser

HERE = pathlib.Path(__file__).resolve().parent
LEFT, HOME, END, TAB, SPACE = "\ue012", "\ue011", "\ue010", "\ue004", "\ue00d"  # WebDriver, 15.4.2
problems = []

STATE = """
const run = document.querySelector(arguments[0]);
return {cursor: run.querySelector(".cursor").getAttribute("transform"),
        wiring: Array.from(run.querySelectorAll(".scheme [data-s]"), e => e.className.baseVal).join(),
        output: run.querySelector("output").textContent, row: run.querySelector(".shown th").textContent,
        spoken: run.querySelector("input").getAttribute("aria-valuetext"),
        rows: run.querySelectorAll(".shown").length};
"""


def expect(good, text):
    if not good:
        problems.append(text)


def requests_of(browser):
    sent = []
    for entry in browser.log("performance"):
        message = json.loads(entry["message"])["message"]
        if message["method"] == "Network.requestWillBeSent":
            sent.append(message["params"]["request"]["url"])
    return sent


def check_quiet(browser, page, title):
    browser.open(page)
    errors = browser.log("browser")
    expect(not errors, f"{page}: the console says {errors}")
    sent = requests_of(browser)
    expect(sent == ["file://" + str(page)], f"{page}: asked for {sent}")
    expect(browser.run("return document.title") == title, f"{page}: the title is {browser.run('return document.title')}")


def check_hostile(page):
    with Browser() as browser:
        name = json.loads((HERE / "hostile.json").read_text(encoding="utf-8"))["name"]
        check_quiet(browser, page, name.replace("\u202e", "?").replace("\u202c", "?") + ": report")
        expect(browser.run("return document.scripts.length") == 1, "there is more than one script")
        # Whatever got into the page in spite of everything would not run.
        ran = browser.run("""const s = document.createElement("script"); s.textContent = "window.ran = 1";
            document.body.append(s); document.body.insertAdjacentHTML("beforeend", "<img src=x: onerror='window.ran = 2'>");
            return new Promise(done => setTimeout(() => done(window.ran || 0), 300));""")
        expect(ran == 0, f"a script that is not ours ran: {ran}")


def check_player(browser, run):
    at_end = browser.run(STATE, run)
    slider = browser.find(run + " input")[0]
    browser.type(slider, LEFT)
    before = browser.run(STATE, run)
    browser.type(slider, HOME)
    first = browser.run(STATE, run)
    for key in ("cursor", "output", "row", "spoken"):
        expect(at_end[key] != before[key], f"{key} does not follow the slider: {before[key]}")
    expect(first["wiring"] != at_end["wiring"] and first["wiring"], "the wiring does not follow the slider")
    expect(first["row"] == first["spoken"] and first["output"].startswith(first["row"]), f"at the begin: {first}")
    expect(at_end["rows"] == first["rows"] == 1, "one moment is marked")
    browser.type(slider, END)
    expect(browser.run(STATE, run) == at_end, "back at the end it is not as it was")
    browser.click(browser.find(run + " .moments tbody tr")[0])
    expect(browser.run(STATE, run) == first, "a click on the first moment does not lead there")


def check_keyboard(browser, run):
    browser.run("document.querySelector(arguments[0]).focus()", run + " .play")
    button = browser.find(run + " .play")[0]
    browser.type(button, SPACE)
    expect(browser.run("return document.activeElement.textContent") == "Pause", "the play button has no key")
    browser.type(button, SPACE)
    browser.type(button, TAB)
    expect(browser.run("return document.activeElement.type") == "range", "the slider is not behind the button")
    browser.run("scrollTo(0, 0); document.activeElement.blur()")
    summary = browser.find("summary")
    if summary:
        browser.type(summary[0], SPACE)
        expect(browser.run("return document.querySelector('details').open"), "a fold does not open by key")
        browser.type(summary[0], SPACE)


def check_paper(browser):
    """What stands in folds is printed, what plays is not."""
    browser.call("POST", "/goog/cdp/execute", {"cmd": "Emulation.setEmulatedMedia", "params": {"media": "print"}})
    hidden = browser.run("""return Array.from(document.querySelectorAll(".run, .claim, table, svg"))
        .filter(e => e.getBoundingClientRect().height === 0).length""")
    shown = browser.run("""return Array.from(document.querySelectorAll(".player, nav"))
        .filter(e => e.getBoundingClientRect().height > 0).length""")
    expect(hidden == 0 and shown == 0, f"on paper {hidden} things are missing and {shown} too much")
    browser.call("POST", "/goog/cdp/execute", {"cmd": "Emulation.setEmulatedMedia", "params": {"media": ""}})
    for width, height in ((21.0, 29.7), (21.59, 27.94)):  # A4 (ISO 216), Letter (ANSI/ASME Y14.1)
        expect(browser.printed(width, height).startswith(b"%PDF"), "nothing is printed")


def large_model(folder):
    """More of everything than the summary has room for, with names as long as they may be."""
    sensors = {f"s{k}": {"senses": f"q{k}", "accuracy": "1 K", "delay": "20 ms"} for k in range(30)}
    loads = {f"lamp{k}": {"is": "load", "draws": "30 A"} for k in range(24)}
    claims = {(f"claim {k} " + "word " * 40)[:115]: {"always": f"NOT out{k} OR s{k} > 20 degC"} for k in range(24)}
    claims |= {(f"proved {k} " + "word " * 40)[:115]: {"always": f"out{k % 24} -> key"} for k in range(30)}
    model = {"lanyard": 1, "name": "large", "inputs": {"key": "maintained", **sensors},
             "quantities": {f"q{k}": "0 .. 100 degC" for k in range(30)},
             "outputs": {f"out{k}": {"on": "key", "drives": "high side", "gives": "1 A"} for k in range(24)},
             "circuit": {"parts": {"battery": "battery", **loads}, "wires":
                         {"W0": "battery - controller.plus", **{f"W{k + 1}": f"out{k} - lamp{k} - ground" for k in range(24)}}},
             "claims": claims}
    path = pathlib.Path(folder) / "large.json"
    path.write_text(json.dumps(model), encoding="utf-8")
    return path


def check_front(page):
    """However large the model, the summary has four pages at most."""
    with Browser() as browser:
        browser.open(page)
        browser.run("document.querySelectorAll('.annexes, footer').forEach(e => e.remove())")
        for width, height in ((21.0, 29.7), (21.59, 27.94)):
            pages = len(re.findall(rb"/Type\s*/Page\b", browser.printed(width, height)))
            expect(1 <= pages <= 4, f"the summary has {pages} pages")
        rest = browser.run("return document.querySelectorAll('.front .rest, .front .do').length")
        expect(rest >= 4, f"what is left to the annex is said {rest} times")


def check_narrow(page):
    with Browser(500, 844) as browser:
        size = {"width": 390, "height": 844, "deviceScaleFactor": 1, "mobile": True}
        browser.call("POST", "/goog/cdp/execute", {"cmd": "Emulation.setDeviceMetricsOverride", "params": size})
        browser.open(page)
        wide = browser.run("return document.documentElement.scrollWidth")
        expect(wide <= 390, f"on a phone the page is {wide} wide")
        thin = browser.run("""return Array.from(document.querySelectorAll(".wide > table td, .wide > table th"))
            .filter(e => e.offsetHeight > 1 && e.offsetWidth < 200 && e.closest("thead") === null).length""")
        expect(thin == 0, f"on a phone {thin} cells have a narrow column")
        seen = browser.run("""const run = document.querySelector("#run-1"), frame = run.querySelector(".drawing");
            const at = run.querySelector(".cursor .now").getBoundingClientRect().left - frame.getBoundingClientRect().left;
            return {at: at, width: frame.clientWidth, scrolls: frame.scrollWidth > frame.clientWidth,
                    sign: getComputedStyle(frame, "::before").content}""")
        expect(seen["scrolls"] and 0 <= seen["at"] <= seen["width"], f"the moment of the failure is out of sight: {seen}")
        expect("scrolls" in seen["sign"], f"nothing says that the drawing scrolls: {seen}")


def check_without_scripts(page):
    with Browser(scripts=False) as browser:
        browser.open(page)
        shown = browser.run("""return Array.from(document.querySelectorAll(".player"))
            .filter(e => e.getBoundingClientRect().height > 0).length""")
        expect(shown == 0, "without scripts there is a slider that does nothing")
        rows = browser.run("return document.querySelectorAll('.claim > .run .shown').length")
        expect(rows > 0, "without scripts no moment is shown")


def main():
    lanyard = sys.argv[1]
    with tempfile.TemporaryDirectory() as scratch:
        pages = {}
        for model in (HERE / "hostile.json", HERE.parent / "cases/refuted/alternator-backfeed.json", large_model(scratch)):
            folder = pathlib.Path(scratch) / model.stem
            subprocess.run([lanyard, "report", model, "--out", folder], capture_output=True, timeout=300)
            pages[model.stem] = folder / "report.html"
        check_hostile(pages["hostile"])
        wired = pages["alternator-backfeed"]
        with Browser() as browser:
            check_quiet(browser, wired, "The alternator feeds round the master switch: report")
            check_player(browser, "#run-1")
            check_keyboard(browser, "#run-1")
            check_paper(browser)
            expect(not browser.log("browser"), "the console says something after all that")
        check_front(pages["large"])
        check_narrow(wired)
        check_without_scripts(wired)
    print("\n".join(problems) or "the page is quiet, plays, prints and runs nothing that is not its own")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
