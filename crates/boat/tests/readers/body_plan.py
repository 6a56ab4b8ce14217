"""Writes a body plan of round sections as DXF with ezdxf: each section as another kind of entity.

body_plan.py FILE VERSION INSUNITS UNIT_MM SCALE

Section s has the radius 400 + 60 s - 10 s^2 mm about a point 700 mm above base; from a half siding of 20 mm to 80 degrees off plumb.
Fore sections stand to the right of the centreline, after sections to the left.
"""
import logging
import math
import sys

import ezdxf
from ezdxf.math import ConstructionArc, rational_bspline_from_arc

path, version, insunits, unit, scale = sys.argv[1], sys.argv[2], int(sys.argv[3]), float(sys.argv[4]), float(sys.argv[5])
f = 1 / unit / scale
cx, base = 1000 * f, 250 * f
# R12 has no unit, and ezdxf grumbles about it.
logging.getLogger("ezdxf").setLevel(logging.ERROR)
doc = ezdxf.new(version)
if version != "R12":
    doc.header["$INSUNITS"] = insunits
msp = doc.modelspace()
msp.add_line((cx, base), (cx, base + 900 * f), dxfattribs={"layer": "Centreline"})
msp.add_line((cx - 600 * f, base), (cx + 600 * f, base), dxfattribs={"layer": "BASE LINE"})
for s in range(6):
    r = (400 + 60 * s - 10 * s * s) * f
    low = math.asin(20 * f / r)
    high = math.radians(80)
    right = s < 3
    centre = (cx, base + 700 * f)
    # Degrees from the drawing's x, anticlockwise.
    a, b = (-90 + math.degrees(low), -10) if right else (190, 270 - math.degrees(low))
    arc = ConstructionArc(centre, r, a, b)
    start, end = arc.start_point, arc.end_point
    layer = {"layer": f"Station {s} at {500 * s} mm" if s != 1 else "sections"}
    bulge = math.tan(math.radians((b - a) / 4))
    if s == 0:
        msp.add_arc(centre, r, a, b, dxfattribs=layer)
    elif s == 1:
        # In two pieces on a layer that names no station: a text at the upper end does.
        middle = (a + b) / 2
        msp.add_arc(centre, r, middle, b, dxfattribs=layer)
        msp.add_arc(centre, r, a, middle, dxfattribs=layer)
        msp.add_text("1", dxfattribs={"height": 10 * f}).set_placement((end.x + 5 * f, end.y + 5 * f))
    elif s == 2:
        if version == "R12":
            msp.add_polyline2d([(start.x, start.y, bulge), (end.x, end.y, 0)], format="xyb", dxfattribs=layer)
        else:
            msp.add_lwpolyline([(start.x, start.y, bulge), (end.x, end.y, 0)], format="xyb", dxfattribs=layer)
    elif s == 3:
        msp.add_polyline2d([(end.x, end.y, -bulge), (start.x, start.y, 0)], format="xyb", dxfattribs=layer)
    elif version == "R12":
        msp.add_arc(centre, r, a, b, dxfattribs=layer)
    elif s == 4:
        msp.add_ellipse(centre, (r, 0), 1.0, math.radians(a), math.radians(b), dxfattribs=layer)
    else:
        spline = msp.add_spline(dxfattribs=layer)
        spline.apply_construction_tool(rational_bspline_from_arc(centre, r, a, b))
doc.saveas(path)
