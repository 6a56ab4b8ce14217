"""The program for the tests, and what asks it over the wire. Only the standard library; its sqlite3 reads from outside."""

import http.client
import json
import os
import pathlib
import random
import sqlite3
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[4]
PROGRAM = os.environ.get("STRAKEWISE", str(ROOT / "target/release/strakewise"))
BOAT = ROOT / "boats/corncrake"


class Shed:
    """The program on a folder; `more` is given to it and `how` to Popen."""

    def __init__(self, folder, *more, **how):
        self.folder = pathlib.Path(folder)
        command = [PROGRAM, str(folder), "--no-browser", "--port", "0", *more]
        self.child = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, **how)
        self.address = self.child.stdout.readline().strip().rstrip("/")
        if not self.address:
            raise SystemExit(f"the program ended: {self.child.stderr.read()}")
        self.host = self.address.removeprefix("http://")

    def kill(self):
        self.child.kill()
        self.child.communicate()

    def stop(self):
        self.child.send_signal(2)
        return self.child.communicate(timeout=20)


class Wire:
    """One connection to a server; opened anew where it has been closed."""

    def __init__(self, host, cookie=None):
        self.host, self.cookie = host, cookie
        self.connection = http.client.HTTPConnection(host, timeout=20)

    def ask(self, method, path, body=None, kind="application/json"):
        head = {"Origin": f"http://{self.host}", "Content-Type": kind}
        if self.cookie:
            head["Cookie"] = self.cookie
        try:
            self.connection.request(method, path, body, head)
            answer = self.connection.getresponse()
            return answer.status, answer.read(), answer.headers
        except (OSError, http.client.HTTPException):
            self.connection.close()
            raise

    def send(self, entries):
        """Status and answer of entries that are sent."""
        status, text, _ = self.ask("POST", "/boat/entries", json.dumps(entries))
        return status, json.loads(text) if status == 200 else text.decode()


def reading(number):
    """A reading with a name and numbers of its own."""
    dice = random.Random(number)
    return {
        "id": f"{number:032x}", "at": 1_770_000_000_000 + number, "kind": "reading", "side": dice.choice(["port", "starboard"]),
        "strake": dice.randint(1, 12), "section": str(dice.randint(1, 9)), "what": "from the mark", "value": round(dice.uniform(-9, 9), 1),
        "against": round(dice.uniform(100, 900), 1), "typed": "as measured", "corrects": None,
    }


def rows(folder):
    """All entries, read by Python's own SQLite, which must find the file sound."""
    with sqlite3.connect(f"file:{folder}/record.sqlite?mode=ro", uri=True) as db:
        sound = db.execute("pragma integrity_check").fetchall()
        assert sound == [("ok",)], sound
        db.row_factory = sqlite3.Row
        found = [dict(row) for row in db.execute("select * from entries order by seq")]
    db.close()
    return found


def same(row, entry):
    """Whether a row holds what was sent."""
    names = {"id": "id", "at_ms": "at", "kind": "kind", "side": "side", "strake": "strake", "section": "section", "what": "what",
             "value": "value", "against_mm": "against", "typed": "typed", "corrects": "corrects"}
    return all(row[column] == entry[field] for column, field in names.items())


def fail(why):
    print(f"FAILED: {why}", file=sys.stderr)
    raise SystemExit(1)
