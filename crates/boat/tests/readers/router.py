"""Reads DXF files for a router with ezdxf and tells what it found, as JSON on standard output.

Run by tests/it/exchange.rs with the interpreter that ./check sets up. Arcs are flattened by ezdxf itself, to a thousandth of a mm;
areas are summed over those points.
"""

import json
import os
import sys

import ezdxf
from ezdxf import path as paths


def run(entity):
    points = [[v.x, v.y] for v in paths.make_path(entity).flattening(0.001)]
    area = sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(points, points[1:] + points[:1])) / 2
    return {
        "layer": entity.dxf.layer,
        "closed": bool(entity.closed),
        "vertices": len(entity),
        "arcs": sum(1 for v in entity.get_points("b") if v[0] != 0),
        "points": points,
        "area": abs(area),
    }


found = {}
for name in sys.argv[1:]:
    doc = ezdxf.readfile(name)
    auditor = doc.audit()
    space = doc.modelspace()
    found[os.path.basename(name)] = {
        "version": doc.dxfversion,
        "units": doc.units,
        "metric": doc.header["$MEASUREMENT"],
        "errors": [e.message for e in auditor.errors],
        "fixes": [e.message for e in auditor.fixes],
        "layers": sorted(layer.dxf.name for layer in doc.layers),
        "kinds": sorted({e.dxftype() for e in space}),
        "text_layers": sorted({e.dxf.layer for e in space.query("TEXT")}),
        "runs": [run(e) for e in space.query("LWPOLYLINE")],
        "circles": [{"layer": e.dxf.layer, "radius": e.dxf.radius} for e in space.query("CIRCLE")],
    }
json.dump(found, sys.stdout)
