#!/usr/bin/env python3
"""Everything that the screen's pages send, spoilt: each is answered, none with a fault of the program's, and it goes on.

    posts.py [--times 600] [--seed 1]

Forms are taken off the pages as a browser would find them; what scripts send is written here, good, and spoilt like the rest.
"""

import argparse
import html.parser
import http.client
import json
import pathlib
import random
import shutil
import tempfile
import time
import urllib.parse

from shed import BOAT, Shed, Wire, fail, reading

PAGES = ["/", "/new", "/files/boat.toml", "/files/offsets.csv", "/files/marks.csv", "/files/boards.csv", "/files/nails.csv", "/files/rates.toml",
         "/weights/aboard", "/phones", "/record", "/boards", "/lands"]
# Pages that show what her files have come to.
SHOWN = ["/", "/lands", "/table", "/hull", "/weights", "/record", "/boards", "/built", "/lines", "/plan-picture"]
# Letting phones in opens the network: phones.py does that.
LEFT = {"/phones/open"}
# On every page, or without fields: seldom.
PLAIN = {"/undo", "/redo", "/phones/shut", "/boards/start", "/boards/stop"}
# What an answer may be; 429 asks for patience.
ANSWERED = {200, 303, 400, 404, 409, 413, 415, 422, 429}
MOST_MEMORY_MB = 500
WORDS = ["", " ", "0", "-1", "-0.0", "1e308", "1e999", "NaN", "inf", "99999999999999999999999", "1/0", "3-11-7+", "7/8", "½", "−4 mm", "\0", "\r\n",
         "\ufeff", "🪵", "../../boat", "/", "\\", "\"", "'", "<script>", "[[", "{", "x" * 5000, "1," * 2000]


def scripts(seen):
    """What scripts send, good: path and body."""
    pixel = lambda x, y: [x, y]
    view = {
        "view": "profile", "bow_right": False, "level": [pixel(0, 100), pixel(900, 101)], "plumb": [], "points": [],
        "distances": [{"from": pixel(0, 100), "to": pixel(900, 101), "length": "4000"}],
        "picks": [{"station": "1", "what": "sheer", "level": "", "pixel": pixel(100, 40)}],
    }
    picture = {"seen": seen, "lengths": "mm", "stations": [{"name": "1", "at": "0"}, {"name": "2", "at": "900"}], "views": [view]}
    return [
        ("/pin", {"seen": seen, "land": 3, "section": 4, "girth": 300.0}),
        ("/lands/free", {"seen": seen}),
        ("/table/try", {"seen": seen, "cells": [{"line": 3, "cell": 2, "text": "1-2-3"}]}),
        ("/table/cells", {"seen": seen, "cells": [{"line": 4, "cell": 3, "text": "0-9-1"}]}),
        ("/plan-picture/read", picture),
        ("/plan-picture/add", picture),
        ("/boat/entries", [reading(seen + 1)]),
    ]


class Forms(html.parser.HTMLParser):
    """The forms of a page that are sent: where to, and their fields as they stand."""

    def __init__(self, page):
        super().__init__()
        self.found, self.open, self.text = [], None, None
        self.feed(page)

    def handle_starttag(self, tag, attributes):
        given = dict(attributes)
        if tag == "form":
            self.open = (given.get("action"), []) if given.get("method", "").lower() == "post" else None
            if self.open:
                self.found.append(self.open)
        elif self.open and given.get("name"):
            if tag == "textarea":
                self.text = given["name"], ""
            elif tag == "input" and (given.get("type") not in ("radio", "checkbox") or "checked" in given):
                self.open[1].append([given["name"], given.get("value") or ""])
            elif tag == "select":
                self.open[1].append([given["name"], ""])

    def handle_data(self, data):
        if self.text:
            self.text = self.text[0], self.text[1] + data

    def handle_endtag(self, tag):
        if tag == "textarea" and self.text:
            self.open[1].append(list(self.text))
            self.text = None
        elif tag == "form":
            self.open = None


def spoilt_text(dice, text):
    """A text with a word put in, a piece left out or one said again, or another text altogether."""
    at, to = sorted(dice.choices(range(len(text) + 1), k=2))
    return dice.choice([dice.choice(WORDS), text[:at] + dice.choice(WORDS) + text[at:], text[:at] + text[to:], text[:to] + text[at:to] * 3 + text[to:]])


def spoilt(dice, value):
    """Something of the same make with one thing in it spoilt."""
    if isinstance(value, dict) and value:
        key = dice.choice(sorted(value))
        if dice.random() < 0.1:
            return {k: v for k, v in value.items() if k != key}
        return value | {key: spoilt(dice, value[key])}
    if isinstance(value, list) and value:
        at = dice.randrange(len(value))
        if dice.random() < 0.15:
            return value[:at] + value[at:] * dice.choice([0, 2, 300])
        return [*value[:at], spoilt(dice, value[at]), *value[at + 1:]]
    if isinstance(value, str):
        return spoilt_text(dice, value)
    return dice.choice([0, -1, 1, 1e300, -1e-300, 2**63, 2**64, None, "", [], {}, True, 0.5])


def asked(dice, wire):
    """What is sent next: path, body, kind."""
    page = dice.choice(PAGES)
    status, text, _ = wire.ask("GET", page)
    if status != 200:
        fail(f"{page}: {status} {text[:200]}")
    plain = dice.random() < 0.1
    forms = [f for f in Forms(text.decode()).found if f[0] not in LEFT and (f[0] in PLAIN) == plain]
    if forms and dice.random() < 0.6:
        path, fields = dice.choice(forms)
        for _ in range(dice.randint(0, 3)):
            if fields:
                field = dice.choice(fields)
                # The revision is mostly left as it is: else the rest is not looked at.
                if field[0] != "seen" or dice.random() < 0.1:
                    field[1] = spoilt_text(dice, field[1])
        return path, urllib.parse.urlencode([tuple(f) for f in fields]), "application/x-www-form-urlencoded"
    seen = next((int(v) for _, fields in Forms(wire.ask("GET", "/files/boat.toml")[1].decode()).found for k, v in fields if k == "seen"), 0)
    path, body = dice.choice(scripts(seen))
    for _ in range(dice.randint(0, 2)):
        body = spoilt(dice, body)
    return path, json.dumps(body), "application/json"


# Longer than this may be refused before it is all sent.
LONG = 1 << 20


class Line(Wire):
    """A connection that is made anew where the program has ended it, as it does after what it would not read to the end."""

    def ask(self, method, path, body=None, kind="application/json"):
        try:
            return super().ask(method, path, body, kind)
        except (OSError, http.client.HTTPException):
            if len(body or "") > LONG:
                return 413, b"", {}
            return super().ask(method, path, body, kind)


def memory_mb(pid):
    """Most memory so far; None where that is not told."""
    status = pathlib.Path(f"/proc/{pid}/status")
    if not status.exists():
        return None
    return next(int(line.split()[1]) / 1000 for line in status.read_text().splitlines() if line.startswith("VmHWM"))


def send(shed, dice, times, answers):
    """Sends so many and counts answers by path and status; seconds of the longest answer, and most memory in MB."""
    wire, longest = Line(shed.host), 0.0
    for turn in range(times):
        path, body, kind = asked(dice, wire)
        begun = time.perf_counter()
        status, text, _ = wire.ask("POST", path, body, kind)
        longest = max(longest, time.perf_counter() - begun)
        if status not in ANSWERED:
            fail(f"{path}: {status} {text[:300]}\nsent: {body[:2000]}")
        if status == 429:
            time.sleep(1)
        answers.setdefault(path, {}).setdefault(status, 0)
        answers[path][status] += 1
        # Mostly she is as she was again: else little more is looked at.
        if path.startswith("/files/") and status == 303 and dice.random() < 0.8:
            wire.ask("POST", "/undo", "", "application/x-www-form-urlencoded")
        if turn % 20 == 0:
            shown = dice.choice(SHOWN)
            if wire.ask("GET", shown)[0] != 200:
                fail(f"{shown} is not shown after {path} {body[:2000]}")
    return longest, memory_mb(shed.child.pid)


def main():
    ask = argparse.ArgumentParser()
    ask.add_argument("--times", type=int, default=600)
    ask.add_argument("--seed", type=int, default=1)
    ask = ask.parse_args()
    dice, answers = random.Random(ask.seed), {}
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder, "corncrake")
        shutil.copytree(BOAT, folder)
        shed = Shed(folder, cwd=folder.parent)
        try:
            longest, memory = send(shed, dice, ask.times, answers)
            _, said = shed.stop()
        finally:
            shed.kill()
        if "panicked" in said:
            fail(f"a panic: {said[-3000:]}")
        if memory and memory > MOST_MEMORY_MB:
            fail(f"{memory:.0f} MB")
    for path, counts in sorted(answers.items()):
        print(f"{path}: " + ", ".join(f"{n} of {status}" for status, n in sorted(counts.items())))
    print(f"{ask.times} sent, the longest answer {longest:.2f} s, {memory or 0:.0f} MB at most")


main()
