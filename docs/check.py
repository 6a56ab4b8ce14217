#!/usr/bin/env python3
"""Holds the documents against the program, so that they cannot rot.

    STRAKEWISE=target/release/strakewise docs/check.py

- Every relative link in README.md, the other documents beside it and docs/ leads to a file, and its heading is there.
- docs/README.md lists every page of docs/.
- Every picture of the guide is as the program draws it today, byte for byte; `docs/guide/redraw.py` draws them anew.
- Every command of the guide (blocks marked `sh`) runs, in the order of the page, in a scratch folder. What a block marked
  `text` under it shows is in what it printed, line for line; a line of `…` stands for lines left out. A block marked `toml` and
  a file's name is put at the end of that file. A line in a comment `<!-- do: … -->` is run, too, and not shown. `strakewise mine` is opened, looked at, and ended.
- Commands, settings, pages of the book (in “ ”) and of the screen (in * *) that the guide names exist.
"""
import os
import pathlib
import re
import subprocess
import sys
import tempfile

sys.dont_write_bytecode = True
from guide.redraw import PROGRAM, contents, draw, fetched, screen  # noqa: E402

DOCS = pathlib.Path(__file__).resolve().parent
ROOT = DOCS.parent
GUIDE = DOCS / "guide.md"
wrong = []


def text_of(page):
    """A page without its blocks of code."""
    return re.sub(r"(?ms)^ *```.*?^ *```$", "", page.read_text(encoding="utf-8"))


def headings(page):
    """The names by which headings are linked to: small letters, no marks, a hyphen for each space."""
    found = re.findall(r"(?m)^#+ +(.*)$", text_of(page))
    return {re.sub(r"[^\w\- ]", "", words.strip().lower()).replace(" ", "-") for words in found}


def links():
    for page in [*sorted(ROOT.glob("*.md")), *sorted(DOCS.glob("*.md"))]:
        # Single backticks quote; what stands between them is no link.
        for link in re.findall(r"\]\(([^)\s]+)\)", re.sub(r"`[^`\n]*`", "", text_of(page))):
            if re.match(r"[a-z]+:", link):
                continue
            name, _, heading = link.partition("#")
            leads_to = (page.parent / name).resolve() if name else page
            if not leads_to.exists():
                wrong.append(f"{page.relative_to(ROOT)}: {link} is not there")
            elif heading and heading not in headings(leads_to):
                wrong.append(f"{page.relative_to(ROOT)}: {link}: no such heading")
    listed = (DOCS / "README.md").read_text(encoding="utf-8")
    for page in sorted(DOCS.glob("*.md")):
        if page.name != "README.md" and f"]({page.name})" not in listed:
            wrong.append(f"docs/README.md does not list {page.name}")


def pictures():
    with tempfile.TemporaryDirectory() as folder:
        drawn = set(draw(folder))
        there = {path.name for path in (DOCS / "guide").glob("*.*") if path.suffix != ".py"}
        for name in sorted(drawn | there):
            if name not in there or name not in drawn:
                wrong.append(f"docs/guide/{name}: {'not kept' if name in drawn else 'nothing draws it'}")
            elif (DOCS / "guide" / name).read_bytes() != pathlib.Path(folder, name).read_bytes():
                wrong.append(f"docs/guide/{name} is not as the program draws it now: run docs/guide/redraw.py and look at it")
            elif f"](guide/{name})" not in GUIDE.read_text(encoding="utf-8"):
                wrong.append(f"docs/guide.md does not show guide/{name}")


def opened(words, folder):
    """Opens the screen as a line says, and looks at its first page."""
    try:
        with screen(words, cwd=folder) as address:
            fetched(f"{address}/")
    except RuntimeError as trouble:
        # A machine without a network of its own can let no phones in, and says so.
        if not ("--phones" in words and "no address on a network" in str(trouble)):
            wrong.append(f"docs/guide.md: `strakewise {' '.join(words)}`: {trouble}")


def run(line, scratch, commands):
    """Runs a line and returns what it printed."""
    words = line.split()
    if words[0] == "strakewise" and words[1] not in commands:
        opened(words[1:], scratch / "shed")
        return ""
    kept = {**os.environ, "PATH": f"{scratch / 'bin'}{os.pathsep}{os.environ['PATH']}"}
    done = subprocess.run(["sh", "-c", line], cwd=scratch / "shed", env=kept, capture_output=True, text=True, timeout=300, stdin=subprocess.DEVNULL)
    # `check` ends with 1 where there is something to look at, which is an answer.
    if done.returncode not in ((0, 1) if line.startswith("strakewise check") else (0,)):
        wrong.append(f"docs/guide.md: `{line}` ended with {done.returncode}: {done.stderr.strip()}")
    return done.stdout + done.stderr


def shown(block, printed, line):
    """Every line of a block of what is printed stands in it, in that order."""
    spaced = lambda words: " ".join(words.split())
    rest = [spaced(each) for each in printed.splitlines()]
    for wanted in filter(None, map(spaced, block.splitlines())):
        if wanted == "…":
            continue
        if wanted not in rest:
            wrong.append(f"docs/guide.md: `{line}` does not print, or not there: {wanted}")
            return
        rest = rest[rest.index(wanted) + 1 :]


def commands_run(commands):
    guide = GUIDE.read_text(encoding="utf-8")
    with tempfile.TemporaryDirectory() as folder:
        scratch = pathlib.Path(folder)
        (scratch / "bin").mkdir()
        (scratch / "shed").mkdir()
        (scratch / "bin" / "strakewise").symlink_to(PROGRAM)
        count, line, printed = 0, "", ""
        for kind, block, hidden in re.findall(r"(?ms)^```(sh|text|toml [\w./-]+)\n(.*?)^```$|^<!-- do: (.*?) -->$", guide):
            if kind.startswith("toml "):
                with open(scratch / "shed" / kind[5:], "a", encoding="utf-8") as file:
                    file.write("\n" + block)
                continue
            if kind == "text":
                shown(block, printed, line)
                continue
            printed = ""
            for line in (block or hidden).splitlines():
                printed += run(line, scratch, commands)
                count += 1
    return count


def named(commands):
    """What the guide names is there."""
    words = text_of(GUIDE)
    for said in re.findall(r"`strakewise ([a-z-]+)", words):
        if said not in commands and said != "mine":
            wrong.append(f"docs/guide.md: there is no command `{said}`")
    settings = (DOCS / "boat-folder.md").read_text(encoding="utf-8")
    for section, key in re.findall(r"`([a-z_]+)\.([a-z_]+)`", words):
        if key not in ("toml", "csv", "md", "sqlite") and not (f"[{section}]" in settings and f"`{key}`" in settings):
            wrong.append(f"docs/guide.md: docs/boat-folder.md has no {section}.{key}")
    with tempfile.TemporaryDirectory() as scratch:
        subprocess.run([PROGRAM, "new", "mine"], check=True, capture_output=True, cwd=scratch)
        with screen(["mine"], cwd=scratch) as address:
            pages = contents(address)
            menu = set(re.findall(r'<a href="/[a-z]*"[^>]*>([^<]*)</a>', fetched(f"{address}/book").decode()))
    for title in re.findall(r"“([^”]+)”", words):
        if " ".join(title.split()) not in pages:
            wrong.append(f"docs/guide.md: the book has no page “{title}”")
    for title in re.findall(r"(?<!\*)\*([A-Z][a-z ]+)\*(?!\*)", words):
        if title not in menu:
            wrong.append(f"docs/guide.md: the screen has no page *{title}*")


def main():
    asked = subprocess.run([PROGRAM, "--help"], check=True, capture_output=True, text=True).stdout
    commands = set(re.findall(r"(?m)^  ([a-z-]+)  +[A-Z]", asked.partition("Commands:")[2].partition("Arguments:")[0]))
    links()
    pictures()
    count = commands_run(commands)
    named(commands)
    for each in wrong:
        print(each)
    if wrong:
        sys.exit(1)
    print(f"documents: links lead somewhere, pictures are current, {count} commands of the guide ran")


main()
