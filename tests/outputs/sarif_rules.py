"""Rules of SARIF 2.1.0 (OASIS Standard, 27 March 2020, with errata 01) as far as our files come near them. Written
from memory of the standard's text, section numbers beside each rule; its own JSON Schema is in no package that this
project installs. sarif_problems(document, source) -> a list of what is wrong; `source`: the text of the analysed
file."""

import re

KINDS = {"pass", "open", "informational", "notApplicable", "review", "fail"}
LEVELS = {"warning", "error", "note", "none"}
ROLES = {"analysisTarget"}
# Properties that the standard defines for the objects that we write: anything else is a slip of the pen.
KNOWN = {
    "sarifLog": {"$schema", "version", "runs", "inlineExternalProperties", "properties"},  # 3.13
    "run": {"tool", "automationDetails", "invocations", "originalUriBaseIds", "artifacts", "columnKind", "results",
            "properties"},  # 3.14
    "driver": {"name", "version", "semanticVersion", "rules"},  # 3.19
    "rule": {"id", "shortDescription", "fullDescription", "help", "defaultConfiguration"},  # 3.49
    "result": {"ruleId", "ruleIndex", "kind", "level", "message", "locations", "relatedLocations", "codeFlows",
               "partialFingerprints", "properties"},  # 3.27
    "location": {"physicalLocation", "logicalLocations", "message"},  # 3.28
    "threadFlowLocation": {"location", "state", "importance"},  # 3.38
    "region": {"startLine", "startColumn", "endLine", "endColumn"},  # 3.30
    "artifactLocation": {"uri", "uriBaseId", "index"},  # 3.4
    "artifact": {"location", "roles", "mimeType", "length", "hashes"},  # 3.24
}


class Checker:
    def __init__(self, source):
        self.lines = source.split("\n")
        self.problems = []

    def expect(self, good, where, text):
        if not good:
            self.problems.append(f"{where}: {text}")

    def known(self, thing, kind, where):
        extra = set(thing) - KNOWN[kind]
        self.expect(not extra, where, f"{sorted(extra)} are no properties of a {kind}")

    def message(self, m, where):
        # 3.11.8: text or id; 3.11.5: single braces are placeholders, and we give no arguments.
        self.expect(isinstance(m, dict) and isinstance(m.get("text"), str) and m["text"], where, "no text")
        text = m.get("text", "")
        self.expect(not re.search(r"(?<!\{)(\{\{)*\{(?!\{)", text), where, "a placeholder")
        # 3.11.6: an embedded link is [text](destination).
        self.expect(not re.search(r"(?<!\\)\[[^\]\\]*\]\(", text), where, "a link")

    def uri(self, a, where):
        self.known(a, "artifactLocation", where)
        # 3.4.3, 3.4.4: with a uriBaseId the uri is relative (RFC 3986); 3.10.2: no dot segments.
        u = a["uri"]
        self.expect(re.fullmatch(r"(?:[A-Za-z0-9._~/-]|%[0-9A-F]{2})+", u), where, f"{u} is no relative URI")
        self.expect(not u.startswith("/") and ".." not in u.split("/"), where, f"{u} leads out")
        self.expect(a.get("uriBaseId") == "%SRCROOT%", where, "relative to what?")

    def region(self, r, where):
        self.known(r, "region", where)
        # 3.30.5: lines count from 1; 3.30.6, 3.30.8: columns too, the end is behind the last character.
        ok = 1 <= r["startLine"] <= len(self.lines)
        self.expect(ok, where, "no such line")
        line = self.lines[r["startLine"] - 1] if ok else ""
        # 3.14.17: unicodeCodePoints, which is what Python counts.
        self.expect(1 <= r["startColumn"] <= r["endColumn"] <= len(line) + 1, where, f"columns {r} of {len(line)}")

    def location(self, loc, where, placed):
        self.known(loc, "location", where)
        physical = loc.get("physicalLocation")
        self.expect(physical or not placed, where, "no place")
        if physical:  # 3.29
            self.uri(physical["artifactLocation"], where)
            self.region(physical["region"], where)
        if "message" in loc:
            self.message(loc["message"], where)
        for logical in loc.get("logicalLocations", []):  # 3.33.3: at least one name
            self.expect(logical.get("name") or logical.get("fullyQualifiedName"), where, "a place without a name")

    def result(self, r, rules, where):
        self.known(r, "result", where)
        self.message(r["message"], where)  # 3.27.11: required
        # 3.27.6, 3.27.5: the index leads to the rule of that id.
        self.expect(rules[r["ruleIndex"]]["id"] == r["ruleId"], where, "ruleIndex and ruleId disagree")
        kind, level = r.get("kind", "fail"), r.get("level", "warning")
        self.expect(kind in KINDS and level in LEVELS, where, f"{kind}, {level}")
        self.expect(kind == "fail" or level == "none", where, "3.27.10: a level without a failure")
        for n, loc in enumerate(r["locations"]):
            self.location(loc, f"{where}.locations[{n}]", True)
        for n, loc in enumerate(r.get("relatedLocations", [])):
            self.location(loc, f"{where}.relatedLocations[{n}]", True)
        for key, value in r["partialFingerprints"].items():  # 3.27.18: hierarchical key with a version, 3.5.4.2
            self.expect(re.fullmatch(r"\w+/v\d+", key) and isinstance(value, str), where, f"fingerprint {key}")
        for flow in r.get("codeFlows", []):  # 3.36.3, 3.37.6: not empty
            self.expect(flow["threadFlows"], where, "an empty code flow")
            for thread in flow["threadFlows"]:
                self.expect(thread["locations"], where, "an empty thread flow")
                for n, step in enumerate(thread["locations"]):
                    at = f"{where}.step[{n}]"
                    self.known(step, "threadFlowLocation", at)
                    self.location(step["location"], at, False)
                    self.expect("message" in step["location"], at, "nothing is told")
                    self.expect(step.get("importance", "important") in ("important", "essential", "unimportant"), at,
                                "3.38.13")
                    for value in step.get("state", {}).values():  # 3.38.9
                        self.message(value, at)

    def run(self, run):
        self.known(run, "run", "run")
        driver = run["tool"]["driver"]  # 3.14.6, 3.18.2: required
        self.known(driver, "driver", "driver")
        self.expect(driver["name"], "driver", "3.19.8: no name")
        self.expect(re.fullmatch(r"\d+\.\d+\.\d+", driver["semanticVersion"]), "driver", "3.19.12: semantic version")
        ids = [r["id"] for r in driver["rules"]]
        self.expect(len(ids) == len(set(ids)), "rules", "3.19.23: not unique")
        for r in driver["rules"]:
            self.known(r, "rule", r["id"])
            for key in ("shortDescription", "fullDescription", "help"):
                if key in r:
                    self.message(r[key], r["id"])
            self.expect(r["defaultConfiguration"]["level"] in LEVELS, r["id"], "3.50.4")
        self.expect(all(i["executionSuccessful"] is True for i in run["invocations"]), "invocations", "3.20.14")
        for base in run["originalUriBaseIds"].values():  # 3.14.14: no uri, or an absolute one - which we never write
            self.expect("uri" not in base, "originalUriBaseIds", "a path of this machine")
        self.expect(run["columnKind"] == "unicodeCodePoints", "run", "3.14.17")
        self.expect(re.fullmatch(r"[^/].*/", run["automationDetails"]["id"]), "run", "3.17.3: hierarchical")
        for a in run["artifacts"]:
            self.known(a, "artifact", "artifact")
            self.uri(a["location"], "artifact")
            self.expect(set(a["roles"]) <= ROLES, "artifact", "3.24.6")
            self.expect(re.fullmatch(r"[0-9a-f]{64}", a["hashes"]["sha-256"]), "artifact", "3.24.11")
        for n, r in enumerate(run["results"]):
            self.result(r, driver["rules"], f"results[{n}]")


def sarif_problems(document, source):
    c = Checker(source)
    c.known(document, "sarifLog", "log")
    c.expect(document["version"] == "2.1.0", "log", "3.13.2")
    c.expect(len(document["runs"]) == 1, "log", "3.13.4")
    for run in document["runs"]:
        c.run(run)
    return c.problems
