"""Reads STL files and glTF files with trimesh and tells what it found, as JSON on standard output.

Run by tests/it/exchange.rs with the interpreter that ./check sets up: the names of the files.
"""

import json
import os
import sys

import trimesh


def told(mesh):
    return {
        "watertight": bool(mesh.is_watertight),
        "winding": bool(mesh.is_winding_consistent),
        "volume": float(mesh.volume),
        "low": mesh.bounds[0].tolist(),
        "high": mesh.bounds[1].tolist(),
        "faces": len(mesh.faces),
    }


found = {}
for path in sys.argv[1:]:
    if path.endswith(".glb"):
        # Parts keep their places; corners that stand once for each of their faces are made one again.
        scene = trimesh.load_scene(path)
        parts = {}
        for name in scene.graph.nodes_geometry:
            turn, geometry = scene.graph[name]
            mesh = scene.geometry[geometry].copy()
            mesh.apply_transform(turn)
            mesh.merge_vertices(merge_norm=True, merge_tex=True)
            parts[name] = told(mesh)
        found[os.path.basename(path)] = {"parts": parts, "nodes": sorted(scene.graph.nodes)}
    else:
        found[os.path.basename(path)] = told(trimesh.load_mesh(path))
json.dump(found, sys.stdout)
