#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Compare the exact plan with two integer programming codes.

    plan.py PROGRAM         PROGRAM is plan_oracle

Makes random problems of every feature from a fixed seed, writes each as an
integer program of its own (the rules of src/plan/solve.h, in constraints) and
solves it with HiGHS, through scipy.optimize.milp, and every third one with
GLPK (glpsol) too, where that is installed.  The optimum has to be equal each
time, and on some problems every point of the frontier.

Exit: 0 all agree, 1 not, 77 no SciPy.
"""
import itertools
import os
import random
import shutil
import subprocess
import sys
import tempfile

try:
    import numpy
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import coo_matrix
except ImportError:
    print("plan.py: skipped, SciPy is not installed")
    sys.exit(77)

COUNT, PARCEL = 0, 1
NONE = -1
PROBLEMS, FRONTIERS, GLPK_EACH = 320, 22, 3
SHARE = 10 ** 5         # weight of a point on the frontier, above any money


# ---- problems --------------------------------------------------------------

def count(table, most=0, minimum=0, group=NONE):
    return {"kind": COUNT, "table": table, "most": most, "minimum": minimum,
            "group": group}


def parcel(postage, free_over=NONE, order=0, top_up=0):
    return {"kind": PARCEL, "postage": postage, "free_over": free_over,
            "order": order, "top_up": top_up}


def problem(places, charges=(), options=(), capacity=(), paid=()):
    """An option is (place, money, points, resources, [(charge, goods)])."""
    return {"places": places, "charges": list(charges),
            "options": list(options), "capacity": list(capacity),
            "paid": list(paid)}


def say(p, asks):
    """The plain text of tests/oracle/plan_text.h."""
    lines = ["%d %d %d %d %d %d" % (
        p["places"], len(p["capacity"]), len(p["charges"]), len(p["paid"]),
        len(p["options"]), len(asks)),
        " ".join(map(str, p["capacity"])), " ".join(map(str, p["paid"]))]
    for c in p["charges"]:
        if c["kind"] == PARCEL:
            lines.append("1 %d %d %d %d" % (c["postage"], c["free_over"],
                                            c["order"], c["top_up"]))
        else:
            lines.append("0 %d %d %d %d %s" % (
                c["most"], c["minimum"], c["group"], len(c["table"]),
                " ".join(map(str, c["table"]))))
    for place, money, points, resources, uses in p["options"]:
        lines.append("%d %d %d %d %s %d %s" % (
            place, money, points, len(resources),
            " ".join(map(str, resources)), len(uses),
            " ".join("%d %d" % u for u in uses)))
    lines += ["%d %d %d %d %d" % a for a in asks]
    return "\n".join(lines) + "\n"


# ---- the same as an integer program ----------------------------------------

class Program:
    """Rows and columns, for both codes."""

    def __init__(self):
        self.whole, self.top, self.rows = [], [], []

    def column(self, top=1, whole=True):
        self.whole.append(whole)
        self.top.append(top)
        return len(self.top) - 1

    def row(self, terms, low=None, high=None):
        self.rows.append((terms, low, high))


def add_count(q, c, users):
    """Binary z[n]: n pieces; gives (terms of money, column "is used")."""
    most = min(c["most"] or len(users), len(users))
    z = [q.column() for _ in range(most + 1)]
    q.row([(j, 1) for j in z], 1, 1)
    q.row([(j, n) for n, j in enumerate(z)] + [(o, -1) for o in users], 0, 0)
    used = q.column()
    q.row([(j, 1) for j in z] + [(z[0], -1), (used, -1)], 0, 0)
    table = c["table"]
    money = [(j, table[min(n, len(table) - 1)]) for n, j in enumerate(z)]
    return money, used


def add_parcel(q, c, users):
    """users: (column, goods).  Binary used, free; top: money added."""
    used, free = q.column(), q.column()
    postage = c["postage"]
    if c["top_up"] and c["free_over"] != NONE and c["order"] >= c["free_over"]:
        postage = 0
    for o, _ in users:
        q.row([(o, 1), (used, -1)], None, 0)
    q.row([(free, 1), (used, -1)], None, 0)
    goods = [(o, g) for o, g in users if g]
    if c["free_over"] == NONE:
        q.row([(free, 1)], 0, 0)
    else:
        q.row(goods + [(free, -c["free_over"])], 0, None)
    money = [(used, postage), (free, -postage)]
    if c["order"]:
        top = q.column(c["order"], False) if c["top_up"] else None
        more = [(top, 1)] if c["top_up"] else []
        q.row(goods + more + [(used, -c["order"])], 0, None)
        money += more
    return money


def add_group(q, members, paid):
    """A column above each sum of as many minimums as are paid."""
    total = q.column(sum(m for _, m in members) or 1, False)
    for some in itertools.combinations(members, min(paid, len(members))):
        q.row([(total, 1)] + [(used, -m) for used, m in some], 0, None)
    return [(total, 1)]


def build(p):
    """(program, terms of money, terms of points)."""
    q = Program()
    x = [q.column() for _ in p["options"]]
    money = [(j, o[1]) for j, o in zip(x, p["options"])]
    points = [(j, o[2]) for j, o in zip(x, p["options"])]
    for s in range(p["places"]):
        q.row([(j, 1) for j, o in zip(x, p["options"]) if o[0] == s], 1, 1)
    for r, room in enumerate(p["capacity"]):
        q.row([(j, 1) for j, o in zip(x, p["options"]) if r in o[3]],
              None, room)
    groups = [[] for _ in p["paid"]]
    for k, c in enumerate(p["charges"]):
        users = [(j, g) for j, o in zip(x, p["options"])
                 for i, g in o[4] if i == k]
        if not users:
            continue
        if c["kind"] == PARCEL:
            money += add_parcel(q, c, users)
            continue
        terms, used = add_count(q, c, [j for j, _ in users])
        money += terms
        if c["group"] == NONE:
            money.append((used, c["minimum"]))
        else:
            groups[c["group"]].append((used, c["minimum"]))
    for members, paid in zip(groups, p["paid"]):
        if members:
            money += add_group(q, members, paid)
    return q, money, points


def asked(p, ask):
    """The program of an ask, and its objective by column."""
    _, points_weight, money_weight, budget, limit = ask
    q, money, points = build(p)
    if budget >= 0:
        q.row(money, None, budget)
    if limit >= 0:
        q.row(points, None, limit)
    goal = [0] * len(q.top)
    for j, v in money:
        goal[j] += money_weight * v
    for j, v in points:
        goal[j] += points_weight * v
    return q, goal, money, points


def total(terms, x):
    return sum(v * x[j] for j, v in terms)


# ---- HiGHS -----------------------------------------------------------------

def for_highs(q, goal):
    """The arguments of milp."""
    at, col, val, low, high = [], [], [], [], []
    for i, (terms, lo, hi) in enumerate(q.rows):
        for j, v in terms:
            at.append(i)
            col.append(j)
            val.append(v)
        low.append(-numpy.inf if lo is None else lo)
        high.append(numpy.inf if hi is None else hi)
    matrix = coo_matrix((val, (at, col)), shape=(len(q.rows), len(q.top)))
    return {"c": numpy.array(goal, float),
            "constraints": LinearConstraint(matrix.tocsc(), low, high),
            "integrality": numpy.array(q.whole, int),
            "bounds": Bounds(0, numpy.array(q.top, float)),
            "options": {"mip_rel_gap": 0}}


def keeps_rows(q, x):
    sums = [(total(terms, x), lo, hi) for terms, lo, hi in q.rows]
    return all((lo is None or v >= lo) and (hi is None or v <= hi)
               for v, lo, hi in sums)


def highs(p, ask):
    """(value, money, points) or None.  Continuous columns are whole in every
    best plan, since all figures are whole.  SciPy 1.10.1 has been seen to
    answer with a plan that breaks a row (3 <= 1); without its presolve the
    answer was right."""
    q, goal, money, points = asked(p, ask)
    if any(not terms and lo for terms, lo, _ in q.rows):
        return None                     # a place with no option
    model = for_highs(q, goal)
    for presolve in True, False:
        model["options"]["presolve"] = presolve
        res = milp(**model)
        if res.status == 2:
            return None
        assert res.status == 0, res.message
        x = [int(round(v)) for v in res.x]
        if keeps_rows(q, x):
            break
    m, s = total(money, x), total(points, x)
    return ask[1] * s + ask[2] * m, m, s


# ---- GLPK ------------------------------------------------------------------

def as_lp(q, goal):
    """CPLEX-LP text, one row a line."""
    def side(terms):
        both = {}
        for j, v in terms:
            both[j] = both.get(j, 0) + v
        return " ".join("%+d x%d" % (v, j) for j, v in sorted(both.items()))

    out = ["minimize", " goal: " + side([(j, v) for j, v in enumerate(goal)]),
           "subject to"]
    for terms, lo, hi in q.rows:
        if not terms:
            continue
        if lo is not None and lo == hi:
            out.append(" %s = %d" % (side(terms), lo))
        elif lo is not None:
            out.append(" %s >= %d" % (side(terms), lo))
        else:
            out.append(" %s <= %d" % (side(terms), hi))
    out.append("bounds")
    out += [" 0 <= x%d <= %d" % (j, t) for j, t in enumerate(q.top)]
    out.append("general")
    out += [" x%d" % j for j, w in enumerate(q.whole) if w]
    return "\n".join(out + ["end"]) + "\n"


def glpk(p, ask, folder):
    q, goal, money, points = asked(p, ask)
    if any(not terms and lo for terms, lo, _ in q.rows):
        return None
    name, answer = os.path.join(folder, "p.lp"), os.path.join(folder, "p.sol")
    with open(name, "w") as f:
        f.write(as_lp(q, goal))
    for cuts in ["--cuts"], []:     # version 5.0 ends in an assertion with
        said = subprocess.run(      # cuts when nothing is left to cut
            ["glpsol", "--lp", name, "--write", answer] + cuts,
            capture_output=True, text=True)
        if said.returncode == 0:
            break
    if "HAS NO" in said.stdout and "FEASIBLE SOLUTION" in said.stdout:
        return None
    x = [0] * len(q.top)
    status = None
    for line in open(answer):
        word = line.split()
        if word[0] == "s":
            status = word[4]
        elif word[0] == "j":
            x[int(word[1]) - 1] = int(round(float(word[2])))
    if status == "n":
        return None
    assert status == "o", said.stdout[-500:]
    m, s = total(money, x), total(points, x)
    return ask[1] * s + ask[2] * m, m, s


# ---- random problems -------------------------------------------------------

def steps(rng, n):
    out = [0]
    for _ in range(n):
        out.append(out[-1] + (rng.randint(1, 400) if rng.random() < .4 else 0))
    return out


def random_charge(rng, groups):
    if rng.random() < .4:
        return parcel(rng.randint(100, 900),
                      rng.choice([NONE, rng.randint(1000, 4000)]),
                      rng.choice([0, rng.randint(500, 3500)]),
                      rng.randint(0, 1))
    return count(steps(rng, rng.randint(1, 8)),
                 rng.choice([0, 0, 0, rng.randint(1, 5)]),
                 rng.choice([0, rng.randint(100, 900)]),
                 rng.randrange(groups) if groups and rng.random() < .7
                 else NONE)


def mixed(rng):
    """A bit of everything."""
    places, groups = rng.randint(3, 12), rng.randint(0, 1)
    charges = [random_charge(rng, groups) for _ in range(rng.randint(2, 8))]
    room = [rng.choice([1, 1, 1, 2]) for _ in range(rng.randint(0, 8))]
    options = []
    for s in range(places):
        for _ in range(rng.randint(1, 5)):
            money = rng.randint(0, 1500)
            uses = [(k, money if c["kind"] == PARCEL else 0)
                    for k, c in enumerate(charges) if rng.random() < .25]
            some = [r for r in range(len(room)) if rng.random() < .25][:2]
            options.append((s, money, 5 * rng.randint(0, 20), some, uses))
        if rng.random() < .9:
            options.append((s, 0, 5 * rng.randint(15, 50), [], []))
    return problem(places, charges, options, room,
                   [rng.randint(1, 3)] * groups)


def bench(rng):
    """Owned tools that clash, sellers with one postage, lots."""
    places, tools = rng.randint(8, 20), rng.randint(4, 25)
    charges = [count([0, rng.randint(300, 900)]) if rng.random() < .6 else
               count([0] + [max(rng.randint(2000, 6000), 700 * n)
                            for n in range(1, places + 1)])
               for _ in range(rng.randint(3, 8))]
    for c in charges:
        c["table"] = list(itertools.accumulate(c["table"], max))
    options = []
    for s in range(places):
        for _ in range(rng.randint(2, 7)):
            own = rng.random() < .5
            options.append((
                s, rng.randint(0, 2500), rng.randint(0, 40),
                [rng.randrange(tools)] if own else [],
                [(k, 0) for k in sorted(rng.sample(range(len(charges)),
                                                   rng.randint(0, 2)))]))
        options.append((s, 0, rng.choice([50, 75, 100]), [], []))
    return problem(places, charges, options, [1] * tools)


def sites(rng):
    """Sites and clients; half of them with costs that leave a wide gap."""
    m, n, hard = rng.randint(4, 14), rng.randint(6, 25), rng.random() < .5
    low, high = (1000, 2000) if hard else (10, 900)
    charges = [count([0, rng.randint(*((600, 1100) if hard else (300, 3000)))])
               for _ in range(m)]
    options = [(j, rng.randint(low, high), 0, [], [(k, 0)])
               for j in range(n) for k in range(m)
               if hard or rng.random() < .7 or k == 0]
    return problem(n, charges, options)


def lots(rng):
    """A shop: lots of a group, loads in steps, all against buying."""
    places, n = rng.randint(5, 14), rng.randint(4, 7)
    charges = []
    for _ in range(n):
        each, free = rng.randint(50, 300), rng.randint(0, 6)
        charges.append(count([0] + [each * max(0, i - free)
                                    for i in range(1, places + 1)],
                             0, rng.randint(300, 1500), 0))
    charges += [count([0] + [500 * ((i + 2) // 3)
                             for i in range(1, places + 1)])
                for _ in range(2)]
    options = []
    for s in range(places):
        for _ in range(rng.randint(1, 3)):
            options.append((s, rng.randint(0, 200), 0, [], [
                (k, 0) for k in sorted(rng.sample(range(n + 2),
                                                  rng.randint(1, 3)))]))
        options.append((s, rng.randint(200, 1500), 5 * rng.randint(0, 9),
                        [], []))
    return problem(places, charges, options, (), [rng.randint(1, 3)])


def random_ask(rng, p):
    """Weights, and sometimes a budget and a limit that bite."""
    weights = rng.choice([(1, 0), (0, 1), (30, 1), (1, 3)])
    worst = sum(max([o[2] for o in p["options"] if o[0] == s] or [0])
                for s in range(p["places"]))
    money = sum(o[1] for o in p["options"]) // 4 + 500
    return (0, weights[0], weights[1],
            rng.randint(0, money) if rng.random() < .5 else -1,
            rng.randint(0, worst) if rng.random() < .3 else -1)


def small(rng):
    """For a frontier: few enough points to walk with HiGHS."""
    while True:
        p = rng.choice([mixed, bench, lots])(rng)
        if p["places"] <= 8 and len(p["options"]) <= 32:
            return p


# ---- the comparison --------------------------------------------------------

def ask_program(program, texts):
    out = subprocess.run([program, "-"], input="".join(texts),
                         capture_output=True, text=True, check=True).stdout
    return out.splitlines()


def compare(program, rng, folder):
    made = []
    for i in range(PROBLEMS):
        p = [mixed, bench, sites, lots][i % 4](rng)
        made.append((p, random_ask(rng, p)))
    lines = ask_program(program, [say(p, [ask]) for p, ask in made])
    good = second = none = 0
    for i, ((p, ask), line) in enumerate(zip(made, lines)):
        want = [highs(p, ask)]
        if folder and i % GLPK_EACH == 0:
            want.append(glpk(p, ask, folder))
            second += 1
        got = None
        if line != "none":
            got = int(line.split()[1])
        else:
            none += 1
        equal = all((w and w[0]) == got for w in want)
        good += equal
        if not equal:
            print("problem %d %s: %s, not %s" % (i, ask, line, want))
    print("plan: %d of %d agree with HiGHS, %d of them asked of GLPK too, "
          "%d have no plan" % (good, PROBLEMS, second, none))
    return good == PROBLEMS == len(lines) and none < PROBLEMS // 2


def frontier(p):
    points, budget = [], -1
    while True:
        best = highs(p, (0, SHARE, 1, budget, -1))
        if best is None:
            return points
        points.append((best[2], best[1]))
        if best[1] == 0:
            return points
        budget = best[1] - 1


def compare_frontiers(program, rng):
    made = [small(rng) for _ in range(FRONTIERS)]
    lines = ask_program(program, [say(p, [(2, 0, 0, -1, -1)]) for p in made])
    good = seen = 0
    for i, (p, line) in enumerate(zip(made, lines)):
        n = list(map(int, line.split()[2:]))
        got, want = list(zip(n[::2], n[1::2])), frontier(p)
        good += got == want
        seen += len(want)
        if got != want:
            print("frontier %d: %s, not %s" % (i, got, want))
    print("plan: %d of %d frontiers agree, %d points" % (good, FRONTIERS,
                                                         seen))
    return good == FRONTIERS == len(lines) and seen > FRONTIERS


def main():
    rng = random.Random(5)
    with tempfile.TemporaryDirectory() as folder:
        if not shutil.which("glpsol"):
            folder = None
            print("plan.py: glpsol is not installed, HiGHS alone")
        good = compare(sys.argv[1], rng, folder)
    good &= compare_frontiers(sys.argv[1], rng)
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
