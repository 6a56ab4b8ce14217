#!/usr/bin/env python3
"""Draws the pictures of the guide anew, all by the program itself, of the example boat Corncrake.

    STRAKEWISE=target/release/strakewise docs/guide/redraw.py            into docs/guide
    STRAKEWISE=target/release/strakewise docs/guide/redraw.py ELSEWHERE  into that folder

Pages of the book are fetched from the program's own screen, where each is an SVG; the rest comes from `pictures` and
`patterns`. The same program draws the same bytes.
"""
import contextlib
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import urllib.request

PROGRAM = str(pathlib.Path(os.environ.get("STRAKEWISE", "target/release/strakewise")).resolve())

# The name of the picture, and the title of the book's page as its contents have it.
PAGES = {
    "lines-and-lands": "Lines and lands",
    "body-plan": "Body plan",
    "strake-5": "Strake 5 of 10",
    "bevels-of-land-5": "Bevels of land 5",
    "rivet-map-of-land-5": "Rivet map of land 5",
    "how-stiff-she-is": "How stiff she is",
}
PATTERNS = {"mould-4": "moulds", "stem": "stem", "transom": "transom"}
PICTURES = ["heeled-from-the-beam"]


@contextlib.contextmanager
def screen(boat, cwd=None):
    """The address of the screen, opened on a boat's folder, for as long as it is wanted. What the program said is the error."""
    shed = subprocess.Popen([PROGRAM, *boat, "--no-browser"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=cwd)
    trouble = None
    try:
        yield shed.stdout.readline().strip().rstrip("/")
    except (OSError, ValueError) as stopped:
        trouble = stopped
        with contextlib.suppress(subprocess.TimeoutExpired):
            shed.wait(10)
    finally:
        shed.terminate()
        said = shed.communicate()[1]
    if trouble:
        raise RuntimeError(f"the screen of {' '.join(boat)} did not open: {trouble}; {said}")


def fetched(address):
    with urllib.request.urlopen(address, timeout=60) as answer:
        return answer.read()


def contents(address):
    """The book's pages: their titles, and the number of the first page of each title."""
    pages = {}
    for number, title in re.findall(r'<a href="/book/(\d+)">([^<]*)</a>', fetched(f"{address}/book").decode()):
        pages.setdefault(title, int(number))
    return pages


def draw(folder):
    """Draws all pictures into a folder, and returns their names."""
    with tempfile.TemporaryDirectory() as scratch:
        boat = os.path.join(scratch, "mine")
        run = lambda *words: subprocess.run([PROGRAM, *words], check=True, capture_output=True, cwd=scratch)
        run("new", "mine")
        run("pictures", "mine", "-o", "pictures")
        run("patterns", "mine", "--as", "svg", "-o", "patterns", *(w for only in PATTERNS.values() for w in ("--only", only)))
        for name in PICTURES:
            shutil.copy(os.path.join(scratch, "pictures", f"{name}.svg"), folder)
        for name in PATTERNS:
            shutil.copy(os.path.join(scratch, "patterns", f"{name}.svg"), folder)
        with screen([boat]) as address:
            pages = contents(address)
            for name, title in PAGES.items():
                sheet = fetched(f"{address}/book/{pages[title]}/sheet.svg")
                pathlib.Path(folder, f"{name}.svg").write_bytes(sheet)
    return [f"{name}.svg" for name in [*PICTURES, *PATTERNS, *PAGES]]


if __name__ == "__main__":
    sys.dont_write_bytecode = True
    target = sys.argv[1] if len(sys.argv) > 1 else str(pathlib.Path(__file__).resolve().parent)
    for drawn in draw(target):
        print(os.path.join(target, drawn))
