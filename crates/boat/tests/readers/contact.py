"""Tells how near the corners of one solid stand to the face of another, with trimesh, as JSON on standard output.

Run by tests/it/exchange.rs with the interpreter that ./check sets up: pairs of STL files, the face first. Told are the distances of
those corners that stand within 2 mm of it, + outside it, from the least.
"""

import json
import sys

import numpy as np
import trimesh


def off(mesh, point):
    feet = trimesh.triangles.closest_point(mesh.triangles, np.broadcast_to(point, (len(mesh.triangles), 3)))
    apart = np.linalg.norm(feet - point, axis=1)
    nearest = apart.min()
    # On an edge several faces are as near: the one that the point stands most squarely off has the sign.
    way = max(((point - feet[i]) @ mesh.face_normals[i] for i in np.where(apart < nearest + 1e-6)[0]), key=abs)
    return float(nearest * np.sign(way))


found = []
for face, corners in zip(sys.argv[1::2], sys.argv[2::2]):
    mesh = trimesh.load_mesh(face)
    all_of_them = (off(mesh, p) for p in trimesh.load_mesh(corners).vertices)
    found.append(sorted(d for d in all_of_them if abs(d) < 2.0))
json.dump(found, sys.stdout)
