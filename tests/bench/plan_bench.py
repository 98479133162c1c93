#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Time the exact plan against HiGHS on published and generated instances.

    plan_bench.py FOLDER PROGRAM [kit] [frontier] [orlib] [families]

FOLDER holds kit_synthetic, ufl_orlib and ufl_families, PROGRAM is plan_bench.
Without further words the first three are run.  Both sides are timed in the
same run, best of REPEATS: ours with setting up, HiGHS by scipy.optimize.milp
with no gap allowed, the call alone.

kit_synthetic  assignment, fixed charges and a budget: generated instances with
               optima that two exact codes agree on (kit_optima.csv)
ufl_orlib      SOURCE beasley-1988: J. E. Beasley, An algorithm for solving
               large capacitated warehouse location problems, Eur. J. Opl Res.
               33 (1988) 314-325; OR-Library, page uncapinfo, gives the optima
ufl_families   SOURCE ufllib: UflLib, M. Hoefer, 2002-2005, with its optima

Exit: 0 every optimum reached and proved and every bar kept, 1 not, 77 no
SciPy.
"""
import csv
import gzip
import os
import statistics
import subprocess
import sys
import tarfile
import time
from decimal import Decimal

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)),
                                "..", "oracle"))
import plan                                             # noqa: E402

SCALE = 10 ** 5
REPEATS = 5
ENOUGH = 2              # seconds: nothing that slow is repeated
failed = 0


def check(what, value, bar, unit=""):
    global failed
    late = bar is not None and value > bar
    failed += late
    print("%-58s %9.4f%s%s%s" % (what, value, unit, "" if bar is None else
                                 "  bar %g" % bar, "  MISSED" if late else ""),
          flush=True)


def right(what, good, whole):
    global failed
    failed += good != whole or whole == 0
    print("%-58s %d of %d" % (what, good, whole), flush=True)


def read(path):
    if os.path.exists(path):
        return open(path).read()
    return gzip.open(path + ".gz", "rt").read()


def ours(program, p, asks, repeats=REPEATS):
    """For each ask (value, proved, seconds), or (points, seconds)."""
    out = subprocess.run([program, str(repeats)], input=plan.say(p, asks),
                         capture_output=True, text=True, check=True).stdout
    lines, answers = iter(out.splitlines()), []
    for line in lines:
        word = line.split()
        if word[0] == "plan":
            answers.append((int(word[1]), word[2] == "1", float(word[5])))
        else:
            points = [tuple(map(int, next(lines).split()))
                      for _ in range(int(word[1]))]
            answers.append((points, float(word[2])))
    return answers


def time_highs(model):
    """Seconds, and the value."""
    best = None
    for _ in range(REPEATS):
        start = time.perf_counter()
        res = plan.milp(**model)
        took = time.perf_counter() - start
        best = took if best is None else min(best, took)
        if took > ENOUGH:
            break
    assert res.status == 0, res.message
    return best, res.fun


# ---- kit_synthetic ---------------------------------------------------------

def kit(folder, name):
    """S T K N; K fixed charges; N lines slot owned score money q charges."""
    n = list(map(int, read("%s/kit_synthetic/%s.txt" % (folder,
                                                        name)).split()))
    slots, tools, charges, lines = n[:4]
    at, options = 4 + charges, []
    for _ in range(lines):
        slot, own, score, money, q = n[at:at + 5]
        options.append((slot, money, score, [own] if own >= 0 else [],
                        [(k, 0) for k in n[at + 5:at + 5 + q]]))
        at += 5 + q
    return plan.problem(slots, [plan.count([0, f]) for f in n[4:4 + charges]],
                        options, [1] * tools)


def kit_for_highs(p, ask):
    """One column an option, one a charge; one row a (slot, charge)."""
    _, points_weight, money_weight, budget, _ = ask
    q = plan.Program()
    x = [q.column() for _ in p["options"]]
    y = [q.column() for _ in p["charges"]]
    goal = [points_weight * o[2] + money_weight * o[1] for o in p["options"]]
    goal += [money_weight * c["table"][1] for c in p["charges"]]
    for s in range(p["places"]):
        q.row([(j, 1) for j in x if p["options"][j][0] == s], 1, 1)
    for t in range(len(p["capacity"])):
        q.row([(j, 1) for j in x if t in p["options"][j][3]], None, 1)
    links = {}
    for j in x:
        for k, _ in p["options"][j][4]:
            links.setdefault((p["options"][j][0], k), []).append((j, 1))
    for (_, k), terms in links.items():
        q.row(terms + [(y[k], -1)], None, 0)
    if budget >= 0:
        q.row([(j, p["options"][j][1]) for j in x] +
              [(y[k], c["table"][1]) for k, c in enumerate(p["charges"])],
              None, budget)
    return plan.for_highs(q, goal)


def bench_kit(folder, program):
    rows = list(csv.DictReader(open(folder + "/kit_synthetic/kit_optima.csv")))
    ratio, good, slowest = {False: [], True: []}, 0, 0
    for name in dict.fromkeys(r["instance"] for r in rows):
        p, mine = kit(folder, name), [r for r in rows if r["instance"] == name]
        asks = [(0, int(r["score_weight"]), int(r["money_weight"]),
                 int(r["budget"] or -1), -1) for r in mine]
        for r, ask, (value, proved, took) in zip(mine, asks,
                                                 ours(program, p, asks)):
            other, its = time_highs(kit_for_highs(p, ask))
            good += (proved and value == int(r["optimum"]) ==
                     int(round(its)))
            ratio[ask[3] >= 0].append(took / other)
            slowest = max(slowest, took)
    right("kit_synthetic: optima reached and proved", good, len(rows))
    check("kit_synthetic, no budget: time against HiGHS, median",
          statistics.median(ratio[False]), 0.3)
    check("kit_synthetic, no budget: the worst", max(ratio[False]), None)
    check("kit_synthetic, budget: time against HiGHS, median",
          statistics.median(ratio[True]), 0.5)
    check("kit_synthetic, budget: the worst", max(ratio[True]), None)
    check("kit_synthetic: the slowest", slowest, None, " s")


def bench_frontier(folder, program):
    for name, bar in (("k_12_20_8_0", 0.3), ("h_25_20_14_0", None)):
        want = [(int(r["score"]), int(r["money"])) for r in csv.DictReader(
            open("%s/kit_synthetic/%s_frontier.csv" % (folder, name)))]
        [(got, took)] = ours(program, kit(folder, name),
                             [(2, 0, 0, -1, -1)], 3)
        right("frontier of %s: points" % name,
              len(set(got) & set(want)) if len(got) == len(want) else 0,
              len(want))
        check("frontier of %s" % name, took, bar, " s")


# ---- sites and clients -----------------------------------------------------

def whole(word):
    return int(Decimal(word) * SCALE)


def orlib(text):
    """m n; m lines capacity fixed; for each client its demand and m costs."""
    word = text.split()
    m, n = int(word[0]), int(word[1])
    fixed = [whole(w) for w in word[3:2 + 2 * m:2]]
    at = 2 + 2 * m
    cost = [[whole(w) for w in word[at + j * (m + 1) + 1:
                                    at + (j + 1) * (m + 1)]]
            for j in range(n)]
    return fixed, cost


def simple(text):
    """FILE: name; m n 0; for each site its number, fixed cost, n costs."""
    word = text.split("\n", 1)[1].split()
    m, n = int(word[0]), int(word[1])
    rows = [word[3 + k * (n + 2):3 + (k + 1) * (n + 2)] for k in range(m)]
    return ([whole(r[1]) for r in rows],
            [[whole(r[2 + j]) for r in rows] for j in range(n)])


def as_plan(fixed, cost):
    return plan.problem(len(cost), [plan.count([0, f]) for f in fixed],
                        [(j, c, 0, [], [(k, 0)]) for j, row in enumerate(cost)
                         for k, c in enumerate(row)])


def sites_for_highs(fixed, cost):
    """In units, not scaled: HiGHS works in floating point."""
    q = plan.Program()
    y = [q.column() for _ in fixed]
    goal = [f / SCALE for f in fixed]
    for row in cost:
        x = [q.column(1, False) for _ in row]
        goal += [c / SCALE for c in row]
        q.row([(j, 1) for j in x], 1, 1)
        for j, k in zip(x, y):
            q.row([(j, 1), (k, -1)], None, 0)
    return plan.for_highs(q, goal)


def bench_orlib(folder, program):
    good, ratio, rows = 0, [], []
    for line in open(folder + "/ufl_orlib/uncapopt.txt"):
        if line.strip():
            rows.append(line.split())
    for name, optimum in rows:
        name = name.split(".")[0]
        fixed, cost = orlib(read("%s/ufl_orlib/%s.txt" % (folder, name)))
        [(value, proved, took)] = ours(program, as_plan(fixed, cost),
                                       [(0, 0, 1, -1, -1)], 3)
        other, _ = time_highs(sites_for_highs(fixed, cost))
        near = abs(Decimal(value) / SCALE - Decimal(optimum))
        good += proved and near <= Decimal("0.001")
        ratio.append(took / other)
        print("  %-8s %.4f s, HiGHS %.4f s" % (name, took, other), flush=True)
    right("ufl_orlib: published optima reached and proved", good, len(rows))
    check("ufl_orlib: time against HiGHS, worst of all", max(ratio), 0.1)


def bench_family(folder, program, family, limit):
    want = {r["file"].split("/")[-1]: r for r in csv.DictReader(
        open(folder + "/ufl_families/optima.csv"))}
    good = n = 0
    slowest = 0.0
    with tarfile.open("%s/ufl_families/%s.tar.gz" % (folder, family)) as tar:
        for member in tar.getmembers():
            name = os.path.basename(member.name)
            name = name[:-4] if name.endswith(".txt") else name
            if not member.isfile() or name not in want:
                continue
            text = tar.extractfile(member).read().decode()
            parts = simple(text) if text.startswith("FILE") else orlib(text)
            [(value, proved, took)] = ours(program, as_plan(*parts),
                                           [(0, 0, 1, -1, -1)], 1)
            best = Decimal(want[name]["recomputed_optimum"])
            good += proved and abs(Decimal(value) / SCALE - best) <= \
                Decimal("0.001")
            n += 1
            slowest = max(slowest, took)
    right("%s: optima reached and proved" % family, good, n)
    check("%s: the slowest" % family, slowest, limit, " s")


def main():
    folder, program, words = sys.argv[1], sys.argv[2], sys.argv[3:]
    words = words or ["kit", "frontier", "orlib"]
    if "kit" in words:
        bench_kit(folder, program)
    if "frontier" in words:
        bench_frontier(folder, program)
    if "orlib" in words:
        bench_orlib(folder, program)
    if "families" in words:
        bench_family(folder, program, "bildekrarup", 1.0)
        bench_family(folder, program, "galvaoraggi", None)
        bench_family(folder, program, "m_ufllib", None)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
