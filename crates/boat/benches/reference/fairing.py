"""The last quadratic of a fairing by cvxpy with Clarabel: reads {"n", "i", "j", "v", "q", "limit"} (the upper triangle of
P by triplets) from the file named, and prints the change, the value and the seconds that it took.

The least of five is taken: of the whole from variables to answer, and of the solver alone."""
import json
import sys
import time

import cvxpy
import numpy as np
import scipy.sparse as sparse

given = json.load(open(sys.argv[1]))
n = given["n"]
upper = sparse.coo_matrix((given["v"], (given["i"], given["j"])), shape=(n, n)).tocsc()
p = (upper + sparse.triu(upper, 1).T).tocsc()
q = np.array(given["q"])
limit = np.array(given["limit"])
whole, alone = [], []
for _ in range(5):
    begun = time.perf_counter()
    x = cvxpy.Variable(n)
    least = 0.5 * cvxpy.quad_form(x, p, assume_PSD=True) + q @ x
    problem = cvxpy.Problem(cvxpy.Minimize(least), [x <= limit, x >= -limit])
    problem.solve(solver=cvxpy.CLARABEL)
    whole.append(time.perf_counter() - begun)
    alone.append(problem.solver_stats.solve_time)
print(json.dumps({"x": x.value.tolist(), "value": problem.value, "whole": min(whole), "alone": min(alone)}))
