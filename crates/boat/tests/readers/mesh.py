"""Measures a closed mesh under a plane with trimesh and tells what it found, as JSON on standard output.

Run by tests/it/flotation.rs with the interpreter that ./check sets up. The mesh comes as OFF; then the water's height, trim and
heel. The mesh is turned here, by its own rotation matrices, cut by trimesh, and the cut at z = 0 left open: trimesh sums the
fluxes of x, x², y², z² and so on along their own axes, to which a lid in z = 0 adds nothing.
"""

import json
import math
import sys

import numpy as np
import trimesh

with open(sys.argv[1], encoding="ascii") as file:
    assert file.readline().strip() == "OFF"
    points, faces, _ = map(int, file.readline().split())
    vertices = np.array([list(map(float, file.readline().split())) for _ in range(points)])
    triangles = np.array([list(map(int, file.readline().split()))[1:] for _ in range(faces)])
water, trim, heel = map(float, sys.argv[2:5])

mesh = trimesh.Trimesh(vertices, triangles, process=False, validate=False)
whole = trimesh.triangles.mass_properties(mesh.triangles, density=1.0)

# Heel about the axis aft (starboard, y, down), then trim about the one across (aft, x, down), then the water to z = 0.
c, s = math.cos(heel), math.sin(heel)
about_aft = np.array([[1, 0, 0], [0, c, s], [0, -s, c]])
c, s = math.cos(trim), math.sin(trim)
about_across = np.array([[c, 0, s], [0, 1, 0], [-s, 0, c]])
mesh.vertices = vertices @ (about_across @ about_aft).T - np.array([0, 0, water])

cut = trimesh.intersections.slice_faces_plane(mesh.vertices, mesh.faces, plane_normal=[0, 0, -1], plane_origin=[0, 0, 0])
sums = trimesh.triangles.mass_properties(cut[0][cut[1]], density=1.0)

# The waterplane's area and moments from the line in which the faces meet it, each piece of it with the body on its left.
lines, cut = trimesh.intersections.mesh_plane(mesh, [0, 0, 1], [0, 0, 0], return_faces=True)
normals = np.cross(
    mesh.triangles[cut][:, 1] - mesh.triangles[cut][:, 0], mesh.triangles[cut][:, 2] - mesh.triangles[cut][:, 0]
)
way = lines[:, 1] - lines[:, 0]
wrong = way[:, 0] * normals[:, 1] - way[:, 1] * normals[:, 0] > 0
lines[wrong] = lines[wrong][:, ::-1]
(x0, y0), (x1, y1) = lines[:, 0, :2].T, lines[:, 1, :2].T
cross = x0 * y1 - x1 * y0
area = 0.5 * cross.sum()
first = [((x0 + x1) * cross).sum() / 6, ((y0 + y1) * cross).sum() / 6]
second = [((x0**2 + x0 * x1 + x1**2) * cross).sum() / 12, ((y0**2 + y0 * y1 + y1**2) * cross).sum() / 12]

json.dump(
    {
        "watertight": bool(mesh.is_watertight),
        "winding": bool(mesh.is_winding_consistent),
        "whole": {"volume": float(whole["volume"]), "centre": whole["center_mass"].tolist()},
        "under": {"volume": float(sums["volume"]), "centre": sums["center_mass"].tolist()},
        "area": float(area),
        "first": [float(v) for v in first],
        "second": [float(v) for v in second],
    },
    sys.stdout,
)
