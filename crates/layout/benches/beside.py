"""Strips laid out by spyrrow (PyPI), to set beside ours: one line of JSON for each instance.

Usage: beside.py SECONDS FILE...   Instances as JSON, as the bench `strip` reads them. Prints name, density, seconds of the clock and of the processor.
"""

import json
import sys
import time
from pathlib import Path

import spyrrow


def read(path):
    raw = json.loads(Path(path).read_text())
    items = [
        spyrrow.Item(
            str(k),
            [tuple(p) for p in item["shape"]["data"]],
            demand=item["demand"],
            allowed_orientations=[float(d) for d in item.get("allowed_orientations") or [0.0]],
        )
        for k, item in enumerate(raw["items"])
    ]
    return spyrrow.StripPackingInstance(Path(path).stem, strip_height=float(raw["strip_height"]), items=items)


def main():
    seconds = int(float(sys.argv[1]))
    for path in sys.argv[2:]:
        instance = read(path)
        config = spyrrow.StripPackingConfig(
            early_termination=False, total_computation_time=seconds, num_workers=1, seed=1
        )
        start, before = time.monotonic(), time.process_time()
        found = instance.solve(config)
        took, processor = time.monotonic() - start, time.process_time() - before
        told = {"name": instance.name, "density": 100.0 * found.density, "seconds": took, "processor": processor}
        print(json.dumps(told), flush=True)


main()
