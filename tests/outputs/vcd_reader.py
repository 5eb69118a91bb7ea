"""A reader of value change dumps, written from memory of IEEE 1364-2005, clause 18 (four-state dumps), and strict where
the clause leaves no choice. read_vcd(text) -> (unit, {path: [(time, value)]}, end)."""

import re


class VcdError(Exception):
    pass


IDENTIFIER = re.compile(r"[A-Za-z_][A-Za-z0-9_$]*")  # 3.7: simple identifier
SCOPES = {"module", "task", "function", "begin", "fork"}  # 18.2.3.4
TYPES = {"wire", "reg", "real", "integer", "parameter"}  # 18.2.3.8; a part


def need(good, text):
    if not good:
        raise VcdError(text)


class Reader:
    def __init__(self, text):
        self.tokens = text.split()
        self.at = 0
        self.unit = None
        self.names = {}  # code -> (path, kind, width)
        self.scopes = []

    def next(self):
        need(self.at < len(self.tokens), "the file ends too early")
        self.at += 1
        return self.tokens[self.at - 1]

    def section(self):
        words = []
        while (word := self.next()) != "$end":
            words.append(word)
        return words

    def declarations(self):  # 18.2.3
        closed = set()
        while True:
            word = self.next()
            body = self.section()
            if word == "$enddefinitions":
                need(not body and not self.scopes, "scopes are open at $enddefinitions")
                return
            if word == "$scope":
                need(len(body) == 2 and body[0] in SCOPES and IDENTIFIER.fullmatch(body[1]), f"$scope {body}")
                self.scopes.append(body[1])
                need(tuple(self.scopes) not in closed, f"the scope {self.scopes} is opened twice")
            elif word == "$upscope":
                need(not body and self.scopes, "$upscope of nothing")
                closed.add(tuple(self.scopes))
                self.scopes.pop()
            elif word == "$timescale":
                found = re.fullmatch(r"(1|10|100)(s|ms|us|ns|ps|fs)", "".join(body))
                need(found and self.unit is None, f"$timescale {body}")
                self.unit = found[2]
            elif word == "$var":
                self.variable(body)
            else:
                need(word in ("$comment", "$version", "$date"), f"{word}?")

    def variable(self, body):
        need(len(body) in (4, 5), f"$var {body}")
        kind, width, code, name = body[0], int(body[1]), body[2], body[3]
        need(kind in TYPES and IDENTIFIER.fullmatch(name), f"$var {body}")
        need(all("!" <= c <= "~" for c in code) and code not in self.names, f"code {code}")
        path = ".".join([*self.scopes, name])
        need(path not in {p for p, _, _ in self.names.values()}, f"{path} is there twice")
        need(len(body) == 4 or body[4] == f"[{width - 1}:0]", f"$var {body}")
        self.names[code] = (path, kind, width)

    def changes(self):  # 18.2.1
        values = {path: [] for path, _, _ in self.names.values()}
        time, dumping = None, False
        while self.at < len(self.tokens):
            word = self.next()
            if word[0] == "#":
                need(time is None or int(word[1:]) > time, f"time goes back at {word}")
                time = int(word[1:])
            elif word == "$dumpvars":
                dumping = True
            elif word == "$end":
                need(dumping and all(values.values()), "$dumpvars leaves something out")
                dumping = False
            else:
                self.change(word, time, values)
        need(time is not None, "nothing is dumped")
        return values, time

    def change(self, word, time, values):
        if word[0] in "01xz":
            value, code = word[0], word[1:]
        else:
            need(word[0] in "br", f"{word}?")
            value, code = word[1:], self.next()
        need(code in self.names and time is not None, f"{word} {code}?")
        path, kind, width = self.names[code]
        if word[0] == "r":
            need(kind == "real", f"{path} is no real")
            float(value)
        elif word[0] == "b":
            need(kind != "real" and re.fullmatch("[01]+", value) and len(value) <= width, f"{path}: {value}")
        else:
            need(width == 1 and kind != "real", f"{path} is no bit")
        need(not values[path] or values[path][-1][1] != value, f"{path} changes to what it was")
        values[path].append((time, value))


def read_vcd(text):
    reader = Reader(text)
    reader.declarations()
    values, end = reader.changes()
    return reader.unit, values, end
