"""Checks JSON files against a JSON Schema with the package jsonschema; tells the faults of each, as JSON on standard output.

Run by tests/it/plan_schema.rs with the interpreter that ./check sets up: the schema, then the files.
"""

import json
import os
import sys

from jsonschema import Draft202012Validator

with open(sys.argv[1], encoding="utf-8") as file:
    schema = json.load(file)
Draft202012Validator.check_schema(schema)
validator = Draft202012Validator(schema)
found = {}
for path in sys.argv[2:]:
    with open(path, encoding="utf-8") as file:
        faults = validator.iter_errors(json.load(file))
    found[os.path.basename(path)] = [["/".join(map(str, f.absolute_path)), f.message[:300]] for f in list(faults)[:20]]
json.dump(found, sys.stdout)
