#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Compare the allocation with SciPy's linear_sum_assignment.

    assign.py PROGRAM                   PROGRAM is assign_oracle
    assign.py --bench FOLDER PROGRAM    PROGRAM is assign_bench

The first solves 200 random problems, 120 sparse and rectangular with three
keys, 80 square and dense, and compares the optimum.  The second solves the
OR-Library files assign100 .. assign800 (.txt or .txt.gz) in FOLDER, wants
the published optima and prints both times.

SOURCE beasley-1990: J. E. Beasley, Linear programming on Cray supercomputers,
J. Opl Res. Soc. 41 (1990) 133-139; the files and their optima are listed in
OR-Library, page assigninfo.

Exit: 0 all agree (and n = 800 is no slower than SciPy), 1 not, 77 no SciPy.
"""
import gzip
import os
import random
import subprocess
import sys
import time

try:
    import numpy
    from scipy.optimize import linear_sum_assignment
except ImportError:
    print("assign.py: skipped, SciPy is not installed")
    sys.exit(77)

OPTIMA = {100: 305, 200: 475, 300: 626, 400: 804,
          500: 991, 600: 1176, 700: 1362, 800: 1552}
SPARSE, DENSE = 120, 80
NO_EDGE = 2 ** 52       # as a cost: below what any matching could gain back
REPEATS = 5


# ---- sparse, three keys ----------------------------------------------------

def make_sparse(rng):
    """Gains as the program sees them (a factor makes some keys need a round
    of their own) and the small ones SciPy can hold exactly."""
    places, tools = rng.randint(30, 200), rng.randint(30, 200)
    thick = rng.choice([0.02, 0.05, 0.1, 0.3, 1.0])
    top = (rng.choice([1, 2]), rng.choice([1, 3]), rng.choice([3, 1000]))
    edges = {(p, t): tuple(rng.randint(-1 if rng.random() < 0.1 else 0, m)
                           for m in top)
             for p in range(places) for t in range(tools)
             if rng.random() < thick}
    return {"places": places, "tools": tools, "top": top, "edges": edges,
            "factor": rng.choice([1, 1, 2 ** 28])}


def say_sparse(q):
    f, edges = q["factor"], list(q["edges"].items())
    lines = ["S %d %d %d" % (q["places"], q["tools"], len(edges))]
    lines += ["%d %d %d %d %d" % (p, t, f * a, f * b, f * c)
              for (p, t), (a, b, c) in edges]
    return "\n".join(lines) + "\n"


def weights(q):
    """A factor for each key, over what the later keys can differ by."""
    n, (_, m1, m2) = q["places"], q["top"]
    w1 = n * (m2 + 1) + 1
    return w1 * (n * (m1 + 1) + 1), w1, 1


def sparse_value(q, answer):
    """Sum of a matching, or None if it is not one."""
    used, total = set(), [0, 0, 0]
    if len(answer) != q["places"]:
        return None
    for p, t in enumerate(answer):
        if t < 0:
            continue
        if t in used or (p, t) not in q["edges"]:
            return None
        used.add(t)
        total = [x + y for x, y in zip(total, q["edges"][p, t])]
    return sum(x * w for x, w in zip(total, weights(q)))


def sparse_optimum(q):
    """SciPy over tools and one private column a place for staying open."""
    n, m, w = q["places"], q["tools"], weights(q)
    bound = n * (sum(x * (y + 1) for x, y in zip(w, q["top"])) + 1)
    assert bound < NO_EDGE / 2, "would not be exact in doubles"
    gain = numpy.full((n, m + n), -float(bound))
    gain[:, m:] = 0
    for (p, t), keys in q["edges"].items():
        gain[p, t] = sum(x * y for x, y in zip(keys, w))
    rows, cols = linear_sum_assignment(gain, maximize=True)
    return int(sum(int(x) for x in gain[rows, cols]))


# ---- dense -----------------------------------------------------------------

def make_dense(rng):
    n = rng.randint(30, 200)
    top = rng.choice([1, 3, 100, 10 ** 6, 2 ** 40])
    return {"n": n, "cost": [[rng.randint(-top // 10, top) for _ in range(n)]
                             for _ in range(n)]}


def say_dense(q):
    return "D %d\n" % q["n"] + "\n".join(
        " ".join(map(str, row)) for row in q["cost"]) + "\n"


def dense_value(q, answer):
    if sorted(answer) != list(range(q["n"])):
        return None
    return sum(row[c] for row, c in zip(q["cost"], answer))


def dense_optimum(q):
    rows, cols = linear_sum_assignment(numpy.array(q["cost"], dtype=float))
    return sum(q["cost"][r][c] for r, c in zip(rows, cols))


# ---- the two runs ----------------------------------------------------------

def compare(program):
    rng = random.Random(19870325)
    sparse = [make_sparse(rng) for _ in range(SPARSE)]
    dense = [make_dense(rng) for _ in range(DENSE)]
    text = "".join(map(say_sparse, sparse)) + "".join(map(say_dense, dense))
    out = subprocess.run([program, "-"], input=text, text=True, check=True,
                         stdout=subprocess.PIPE).stdout.splitlines()
    answers = [[int(x) for x in line.split()] for line in out]
    if len(answers) != SPARSE + DENSE:
        print("assign.py: %d answers to %d problems"
              % (len(answers), SPARSE + DENSE))
        return 1
    pairs = [(sparse_value(q, a), sparse_optimum(q))
             for q, a in zip(sparse, answers)]
    pairs += [(dense_value(q, a), dense_optimum(q))
              for q, a in zip(dense, answers[SPARSE:])]
    for i, (got, want) in enumerate(pairs):
        if got != want:
            print("problem %d: %s, SciPy finds %s" % (i, got, want))
    good = sum(got == want for got, want in pairs)
    # The comparison must be able to fail: all places open is not the best, a
    # column given twice is no answer.
    q, d = sparse[0], dense[0]
    if sparse_value(q, [-1] * q["places"]) == pairs[0][1] or \
            dense_value(d, [0] * d["n"]) is not None:
        print("assign.py: a wrong answer went unnoticed")
        return 1
    print("%d of %d agree" % (good, len(pairs)))
    return 0 if good == len(pairs) else 1


def read(folder, n):
    path = os.path.join(folder, "assign%d.txt" % n)
    if os.path.exists(path):
        with open(path, "rb") as f:
            return f.read()
    with gzip.open(path + ".gz", "rb") as f:
        return f.read()


def scipy_time(text, n):
    cost = numpy.array(text.split()[1:], dtype=float).reshape(n, n)
    best = float("inf")
    for _ in range(REPEATS):
        start = time.perf_counter()
        rows, cols = linear_sum_assignment(cost)
        best = min(best, time.perf_counter() - start)
    return best, int(cost[rows, cols].sum())


def bench(folder, program):
    good, ratio = True, None
    for n, optimum in OPTIMA.items():
        text = read(folder, n)
        out = subprocess.run([program], input=text, check=True,
                             stdout=subprocess.PIPE).stdout.split()
        total, took = int(out[1]), float(out[2])
        theirs, their_total = scipy_time(text, n)
        good = good and total == their_total == optimum
        ratio = took / theirs
        print("assign%d: sum %d, published %d; %.3f ms, SciPy %.3f ms,"
              " ratio %.2f" % (n, total, optimum, 1e3 * took, 1e3 * theirs,
                               ratio))
    return 0 if good and ratio <= 1.0 else 1


def main(args):
    if len(args) == 1:
        return compare(args[0])
    if len(args) == 3 and args[0] == "--bench":
        return bench(args[1], args[2])
    print(__doc__)
    return 2


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
