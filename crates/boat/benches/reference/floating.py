"""Where a closed mesh floats, by trimesh and scipy: reads {"points": [[x, y, z]...], "faces": [[a, b, c]...], "mass", "centre", "density",
"heels": [radians...]} from the file named and prints how she lies on an even keel, her righting arms, and the seconds of both.

trimesh cuts the turned mesh at the water and sums what is under; scipy's hybr looks for depth and trim at which displacement and weight,
and the two centres along her, agree. Each heel begins where the one before ended."""
import json
import math
import sys
import time

import numpy as np
import trimesh
from scipy.optimize import root

given = json.load(open(sys.argv[1]))
points, faces = np.array(given["points"]), np.array(given["faces"])
centre = np.array(given["centre"])
volume = given["mass"] / given["density"] * 1e9


def turned(trim, heel):
    c, s = math.cos(heel), math.sin(heel)
    about_aft = np.array([[1, 0, 0], [0, c, s], [0, -s, c]])
    c, s = math.cos(trim), math.sin(trim)
    about_across = np.array([[c, 0, s], [0, 1, 0], [-s, 0, c]])
    return about_across @ about_aft


def under(water, trim, heel):
    """Volume and its middle, in the water's frame; the cut at z = 0 is left open, where it adds nothing."""
    at = points @ turned(trim, heel).T - np.array([0, 0, water])
    cut = trimesh.intersections.slice_faces_plane(at, faces, plane_normal=[0, 0, -1], plane_origin=[0, 0, 0])
    found = trimesh.triangles.mass_properties(cut[0][cut[1]], density=1.0)
    return found["volume"], found["center_mass"]


def settled(start, heel):
    def off(guess):
        found, middle = under(guess[0], guess[1] * 1e-3, heel)
        weight = turned(guess[1] * 1e-3, heel) @ centre
        return [(found - volume) / volume * 1e3, (middle[0] - weight[0]) * found / volume]

    found = root(off, start, method="hybr", tol=1e-11)
    assert found.success or np.abs(found.fun).max() < 1e-6, found
    return found.x


def depth():
    """About how deep she lies level, by halves."""
    low, high = points[:, 2].min() + 1, points[:, 2].max() - 1
    for _ in range(12):
        mid = 0.5 * (low + high)
        low, high = (mid, high) if under(mid, 0, 0)[0] < volume else (low, mid)
    return 0.5 * (low + high)


begun = time.perf_counter()
even = settled([depth(), 0.0], 0.0)
floats = time.perf_counter() - begun
begun = time.perf_counter()
last, arms = even, []
for heel in given["heels"]:
    last = settled(last, heel)
    _, middle = under(last[0], last[1] * 1e-3, heel)
    arms.append(middle[1] - (turned(last[1] * 1e-3, heel) @ centre)[1])
curve = time.perf_counter() - begun
print(json.dumps({"water": even[0], "trim": even[1] * 1e-3, "arms": arms, "floats": floats, "curve": curve}))
