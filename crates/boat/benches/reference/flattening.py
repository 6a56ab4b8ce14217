"""Surfaces laid flat by libigl, as rigid as possible: reads {"planks": [{"rows", "columns", "points": [[x, y, z]...],
"flat": [[x, y]...]}]} from the file named and prints, for each, the flat points and the least seconds of three.

Every cell of the grid is cut into four triangles about its middle, so that neither diagonal is favoured. The search starts
from "flat", as ours does from its own first guess; rounds go on until none moves a point by 1e-5 mm. The energy is that of
rotations fitted to each triangle (elements), which is not the strain energy of St. Venant and Kirchhoff but agrees with it to
the first order where strains are small."""
import json
import sys
import time

import igl
import numpy as np

given = json.load(open(sys.argv[1]))
said = []
for plank in given["planks"]:
    rows, columns = plank["rows"], plank["columns"]
    grid = np.array(plank["points"]).reshape(rows, columns, 3)
    start = np.array(plank["flat"]).reshape(rows, columns, 2)
    middle = lambda g: 0.25 * (g[:-1, :-1] + g[1:, :-1] + g[:-1, 1:] + g[1:, 1:])
    v = np.vstack([grid.reshape(-1, 3), middle(grid).reshape(-1, 3)])
    guess = np.vstack([start.reshape(-1, 2), middle(start).reshape(-1, 2)])
    n = rows * columns
    faces = []
    for r in range(rows - 1):
        for c in range(columns - 1):
            a, b = r * columns + c, (r + 1) * columns + c
            m = n + r * (columns - 1) + c
            faces += [[a, b, m], [b, b + 1, m], [b + 1, a + 1, m], [a + 1, a, m]]
    f = np.array(faces, dtype=np.int64)
    times = []
    for _ in range(3):
        begun = time.perf_counter()
        data = igl.ARAPData()
        data.energy = igl.ARAP_ENERGY_TYPE_ELEMENTS
        data.max_iter = 50
        held = np.array([n // 2], dtype=np.int32)
        igl.arap_precomputation(v, f, 2, held, data)
        u, at = guess.copy(), guess[held]
        for rounds in range(400):
            last, u = u, igl.arap_solve(at, data, u.copy())
            if np.abs(u - last).max() < 1e-5:
                break
        times.append(time.perf_counter() - begun)
    said.append({"flat": u[:n].tolist(), "seconds": min(times), "rounds": 50 * (rounds + 1)})
print(json.dumps(said))
