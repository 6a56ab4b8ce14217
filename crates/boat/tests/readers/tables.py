"""Reads CSV files with Python's own csv and tells their rows, as JSON on standard output.

Run by tests/it/exchange.rs. The reader is strict: a quote in the wrong place is an error.
"""

import csv
import json
import os
import sys

found = {}
for path in sys.argv[1:]:
    with open(path, encoding="utf-8-sig", newline="") as file:
        raw = file.read()
        assert raw.endswith("\r\n") and "\n" not in raw.replace("\r\n", ""), f"{path}: ends of lines"
        file.seek(0)
        found[os.path.basename(path)] = list(csv.reader(file, strict=True))
json.dump(found, sys.stdout)
