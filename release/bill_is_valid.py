"""Holds a bill of materials against CycloneDX's own schema, by that project's reader, and that it names what only builds:
bill_is_valid.py FILE."""

import json
import sys
from pathlib import Path

from cyclonedx.schema import SchemaVersion
from cyclonedx.validation.json import JsonStrictValidator

reader = JsonStrictValidator(SchemaVersion.V1_6)
text = Path(sys.argv[1]).read_text(encoding="utf-8")
if wrong := reader.validate_str(text):
    sys.exit(f"{sys.argv[1]}: {wrong}")
# A reader that finds nothing in this finds nothing in anything.
if not reader.validate_str(text.replace('"bomFormat": "CycloneDX"', '"bomFormat": "other"')):
    sys.exit("the schema's reader lets a wrong bill pass")
# SQLite, within a crate that is linked, is compiled by one that is not.
if {"cc": "excluded", "libsqlite3-sys": "required"}.items() - {part["name"]: part["scope"] for part in json.loads(text)["components"]}.items():
    sys.exit(f"{sys.argv[1]}: what is linked, or what only builds, is not named as that")
