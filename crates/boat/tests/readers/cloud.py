"""Writes a cloud of points of a hull, turned, shifted, noisy, with strays, and tells how it was turned, as JSON.

cloud.py OUT FORM UNIT_MM YAW HEEL PITCH NOISE_MM STRAYS POINTS EXTRAS SEED [MESH.off]

Run by tests/it/read_in_cloud.rs with the interpreter that ./check sets up. Without a mesh the hull is Wigley's, 4.2 m by 1.4 m by 0.6 m,
y = (B/2) (1 - (2x/L)^2) (1 - (z/T)^2), z from -T to 0, strewn evenly over its area; with one, trimesh strews points over the
mesh and its mirror image. EXTRAS: a comma's list of floor, mast, hole (no points about one station's bilge on both sides), half.
"""

import json
import sys

import numpy as np
import trimesh

out, form = sys.argv[1:3]
unit, yaw, heel, pitch, noise, strays = map(float, sys.argv[3:9])
count, extras, seed = int(sys.argv[9]), sys.argv[10].split(","), int(sys.argv[11])
dice = np.random.default_rng(seed)

if len(sys.argv) > 12:
    with open(sys.argv[12], encoding="ascii") as file:
        assert file.readline().strip() == "OFF"
        n, m, _ = map(int, file.readline().split())
        vertices = np.array([list(map(float, file.readline().split())) for _ in range(n)])
        triangles = np.array([list(map(int, file.readline().split()))[1:] for _ in range(m)])
    mesh = trimesh.Trimesh(vertices, triangles, process=False, validate=False)
    points, _ = trimesh.sample.sample_surface(mesh, count, seed=seed)
    points = np.array(points)
else:
    length, breadth, depth = 4200.0, 1400.0, 600.0
    x = dice.uniform(-length / 2, length / 2, 12 * count)
    z = dice.uniform(-depth, 0, 12 * count)
    along, up = 1 - (2 * x / length) ** 2, 1 - (z / depth) ** 2
    # Area over its picture from the side: the root of 1 + y_x^2 + y_z^2.
    y_x, y_z = breadth / 2 * up * 8 * x / length**2, breadth / 2 * along * 2 * z / depth**2
    area = np.sqrt(1 + y_x**2 + y_z**2)
    kept = dice.uniform(0, area.max(), len(x)) < area
    points = np.column_stack([x, breadth / 2 * along * up, z])[kept][:count]
    assert len(points) == count
if "half" not in extras:
    points[:, 1] *= dice.choice([-1.0, 1.0], len(points))
if "hole" in extras:
    low, high = points.min(axis=0), points.max(axis=0)
    x, z = (points - low)[:, 0] / (high - low)[0], (points - low)[:, 2] / (high - low)[2]
    points = points[~((abs(x - 0.5) < 0.08) & (abs(z - 0.55) < 0.15))]
low, high = points.min(axis=0), points.max(axis=0)
middle, span = (low + high) / 2, high - low
add = [points + dice.normal(0, noise, points.shape)]
add.append(middle + dice.uniform(-0.6, 0.6, (int(strays * len(points)), 3)) * span)
if "floor" in extras:
    n = len(points) // 4
    flat = middle + dice.uniform(-0.9, 0.9, (n, 3)) * span
    flat[:, 2] = low[2] - 150 + dice.normal(0, noise, n)
    add.append(flat)
if "mast" in extras:
    n = len(points) // 40
    add.append(np.column_stack([np.full(n, low[0] + 0.3 * span[0]), np.zeros(n), high[2] + dice.uniform(-0.4, 3, n) * span[2]]) + dice.normal(0, 20, (n, 3)))
points = np.concatenate(add)


def turn(degrees, a, b):
    matrix = np.eye(3)
    c, s = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    matrix[a, a], matrix[a, b], matrix[b, a], matrix[b, b] = c, -s, s, c
    return matrix


turned = turn(yaw, 0, 1) @ turn(pitch, 0, 2) @ turn(heel, 1, 2)
shift = np.array([1234.5, -987.0, 432.1])
points = points @ turned.T + shift
points = points[dice.permutation(len(points))] / unit
if form == "ply":
    trimesh.PointCloud(points).export(out, file_type="ply")
elif form == "ply-text":
    trimesh.PointCloud(points).export(out, file_type="ply", encoding="ascii")
elif form == "csv":
    with open(out, "w", encoding="utf-8-sig", newline="") as file:
        file.write("n;x;y;z\r\n")
        for i, p in enumerate(points):
            file.write(f"{i};" + ";".join(f"{v:.4f}".replace(".", ",") for v in p) + "\r\n")
else:
    np.savetxt(out, points, fmt="%.5f", header="x y z scanned", comments="# ")
print(json.dumps({"turned": turned.tolist(), "shift": shift.tolist(), "points": len(points)}))
