"""Reads a DXF file with ezdxf and tells what it found, as JSON on standard output.

Run by tests/it/patterns_read.rs, tapes_read.rs and cards.rs with the interpreter that ./check sets up.
"""

import json
import sys

import ezdxf
from ezdxf.lldxf.encoding import decode_dxf_unicode

ezdxf_doc = ezdxf.readfile(sys.argv[1])
auditor = ezdxf_doc.audit()
space = ezdxf_doc.modelspace()


def polyline(entity):
    return {
        "layer": entity.dxf.layer,
        "closed": entity.is_closed,
        "points": [[v.dxf.location.x, v.dxf.location.y] for v in entity.vertices],
    }


def circle(entity):
    return {"layer": entity.dxf.layer, "at": [entity.dxf.center.x, entity.dxf.center.y], "radius": entity.dxf.radius}


def text(entity):
    return {
        "layer": entity.dxf.layer,
        "words": decode_dxf_unicode(entity.plain_text()),
        "at": [entity.dxf.insert.x, entity.dxf.insert.y],
        "height": entity.dxf.height,
    }


print(
    json.dumps(
        {
            "version": ezdxf_doc.dxfversion,
            "errors": [e.message for e in auditor.errors],
            "fixes": [e.message for e in auditor.fixes],
            "layers": [layer.dxf.name for layer in ezdxf_doc.layers],
            "extent": [list(ezdxf_doc.header["$EXTMIN"])[:2], list(ezdxf_doc.header["$EXTMAX"])[:2]],
            "kinds": sorted({entity.dxftype() for entity in space}),
            "polylines": [polyline(e) for e in space.query("POLYLINE")],
            "circles": [circle(e) for e in space.query("CIRCLE")],
            "texts": [text(e) for e in space.query("TEXT")],
        }
    )
)
