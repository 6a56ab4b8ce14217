"""Opens CSV files in LibreOffice Calc and tells what it took each cell for, as JSON on standard output. It is told what its own
dialog proposes for them (commas, quotes, UTF-8 by the mark at the head), and to look for days and other special numbers.

Run by tests/it/exchange.rs: the files, in a scratch folder of their own. Each cell is told as its kind (`float`, `string`, `date` …, with `formula`
before it where it is one) and its value or words.
"""

import json
import os
import subprocess
import sys
import xml.etree.ElementTree as ET

OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"

files = sys.argv[1:]
folder = os.path.dirname(files[0])
command = ["soffice", f"-env:UserInstallation=file://{folder}/profile", "--headless", "--norestore"]
command += ["--infilter=CSV:44,34,76,1,,0,false,true", "--convert-to", "fods", "--outdir", folder] + files
for _ in range(3):
    # The first run in a new profile may only set it up and ask to be run again.
    quiet = {"stdin": subprocess.DEVNULL, "stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    subprocess.run(command, timeout=300, **quiet)
    made = [os.path.join(folder, os.path.splitext(os.path.basename(f))[0] + ".fods") for f in files]
    if all(map(os.path.exists, made)):
        break


def cell(node):
    kind = node.get(OFFICE + "value-type")
    if node.get(TABLE + "formula"):
        kind = f"formula {kind}"
    words = "\n".join("".join(p.itertext()) for p in node.findall(TEXT + "p"))
    return [kind, float(node.get(OFFICE + "value")) if kind == "float" else words]


found = {}
for name, path in zip(files, made):
    rows = []
    for row in ET.parse(path).getroot().iter(TABLE + "table-row"):
        cells = []
        for node in row.findall(TABLE + "table-cell"):
            cells += [cell(node)] * int(node.get(TABLE + "number-columns-repeated", "1"))
        while cells and cells[-1][0] is None:
            cells.pop()
        if cells:
            rows += [cells] * int(row.get(TABLE + "number-rows-repeated", "1"))
    found[os.path.basename(name)] = rows
json.dump(found, sys.stdout)
