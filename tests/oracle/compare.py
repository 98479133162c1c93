#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Lay random kits side by side and let every other way of doing so compete.

    compare.py [--cases N] [--first SEED] TOOL

Each case is two small kits made from its seed, the second with slots changed,
renamed, moved, dropped and added.  Of `compare --json`

* the pairs cost what the best of all partial pairings costs, tried one by
  one, by costs that are worked out here from the rules of docs/method.md;
* what is said to differ is what differs in the files;
* slots in another order are paired alike, and other ids of the slots leave
  the cost as it is;
* the exit status says whether anything differs.

Widths: mm as struck; 1 in = 25.4 mm [nist-sp811]; 1/4 W is 0.525 in, struck
5/16 BS too, and 5/16 W 0.600 in [bs-1083-1965].  The weights are choices.

Exit: 0 all agree, 1 not.
"""
import argparse
import json
import os
import random
import subprocess
import sys
import tempfile
from fractions import Fraction

# hundredths of a point
ALONE = 5000
WEIGHT = {"tool": 60, "sizes": 40, "length": 12, "part": 12, "finish": 6, "mark": 6,
          "handle_colour": 4}
WIDTH = {"8 mm": 8000000, "10 mm": 10000000, "12 mm": 12000000, "13 mm": 13000000,
         "17 mm": 17000000, "7/16 AF": 11112500, "1/4 W": 13335000, "5/16 BS": 13335000,
         "5/16 W": 15240000}
SPANNERS = ["double open-ended spanner", "double ring spanner"]
OTHERS = ["tyre lever", "combination pliers", "hammer"]
CERTAINTIES = ["certain", "probable", "possible"]


# ---- kits ---------------------------------------------------------------

def make_slot(r):
    s = {"tool": r.choice(SPANNERS + OTHERS), "count": r.choice([1, 1, 1, 2]),
         "exists": r.choice(CERTAINTIES[:1] * 3 + CERTAINTIES)}
    if s["tool"] in SPANNERS:
        s["sizes"] = r.sample(sorted(WIDTH), r.choice([1, 2, 2]))
    if r.random() < 0.8:
        s["length"] = (r.choice([140, 148, 150, 154, 165, 250]), r.choice([2, 3]))
    if r.random() < 0.6:
        s["mark"] = r.sample(["LARKMOOR", "LM", "none"], r.choice([1, 1, 2]))
    if r.random() < 0.6:
        s["finish"] = [r.choice(["black oxide", "bright nickel"])]
    if r.random() < 0.3:
        s["part"] = [r.choice(["54-701", "54-702", "54-703"])]
    if r.random() < 0.5:
        s["pocket"] = r.randrange(1, 6)
    if r.random() < 0.3:
        s["handle_colour"] = [r.choice(["amber", "green"])]
        s["sure"] = r.choice(CERTAINTIES)
    return s


def make_kits(r):
    a = [make_slot(r) for _ in range(r.randrange(1, 6))]
    b = []
    for s in a:
        if r.random() < 0.2:
            continue
        t = dict(s)
        if r.random() < 0.7:
            other = make_slot(r)
            for k in r.sample(sorted(set(other) - {"tool", "sizes"}), 2):
                t[k] = other[k]
        if "sizes" in t and r.random() < 0.5:
            t["sizes"] = t["sizes"][:1] + [r.choice(sorted(set(WIDTH) - set(t["sizes"])))]
        if "length" in t and r.random() < 0.4:
            t["length"] = (t["length"][0] + r.choice([-12, 4, 9]), r.choice([2, 3]))
        if r.random() < 0.2 and "sizes" in t:
            t["tool"] = r.choice(SPANNERS)
        if "handle_colour" in t:
            t.setdefault("sure", "certain")
        if "handle_colour" not in t:
            t.pop("sure", None)
        b.append(t)
    b += [make_slot(r) for _ in range(r.randrange(0, 3))]
    b = b[:6] or [make_slot(r)]
    r.shuffle(b)
    return a, b


def text_of(kit, ids, slots):
    out = ["kit:", "  id: %s" % kit, "  colours: {amber: \"#c47a1c\", green: \"#2e7d32\"}",
           "  slots:"]
    for i, s in zip(ids, slots):
        say = ["id: %s" % i, "tool: %s" % s["tool"]]
        if s["count"] > 1:
            say.append("count: %d" % s["count"])
        if s["exists"] != "certain":
            say.append("exists: {certainty: %s}" % s["exists"])
        if "sizes" in s:
            say.append("sizes: [%s]" % ", ".join(s["sizes"]))
        if "length" in s:
            say.append("length: %d mm +-%d" % s["length"])
        if "mark" in s:
            say.append("mark: {any_of: [%s]}" % ", ".join(s["mark"])
                       if len(s["mark"]) > 1 else "mark: %s" % s["mark"][0])
        for k in ("finish", "part"):
            if k in s:
                say.append("%s: %s" % (k, s[k][0]))
        if "pocket" in s:
            say.append("pocket: %d" % s["pocket"])
        if "handle_colour" in s:
            say.append("handle_colour: {is: %s, certainty: %s}" %
                       (s["handle_colour"][0], s["sure"]))
        out.append("    - {%s}" % ", ".join(say))
    return "\n".join(out) + "\n"


# ---- what a pair costs, from the method ---------------------------------

def apart(x, y):
    """Two lengths that do not meet: 50, and up to 50 more."""
    return min(100, 50 + 50 * abs(x - y) // (max(x, y) // 4))


def far_end(x, y):
    if x == y:
        return 0
    if {x, y} == {"1/4 W", "5/16 BS"}:
        return 25
    return apart(WIDTH[x], WIDTH[y])


def far_sizes(x, y):
    """The least over every way to lay the ends; one left over counts 100."""
    if len(x) > len(y):
        x, y = y, x
    best = None
    for p in permutations_of(y, len(x)):
        cost = sum(far_end(a, b) for a, b in zip(x, p)) + 100 * (len(y) - len(x))
        same = sum(a == b for a, b in zip(x, p))
        # those struck the same lie beside each other first
        key = (-same, cost)
        best = key if best is None else min(best, key)
    return best[1] // len(y)


def permutations_of(v, n):
    if n == 0:
        yield []
        return
    for i in range(len(v)):
        for rest in permutations_of(v[:i] + v[i + 1:], n - 1):
            yield [v[i]] + rest


def far(k, s, t):
    if k not in s and k not in t:
        return 0
    if k not in s or k not in t:
        return 50
    x, y = s[k], t[k]
    if k == "tool":
        return 0 if x == y else 100
    if k == "sizes":
        return 0 if sorted(x) == sorted(y) else far_sizes(x, y)
    if k == "length":
        if x == y:
            return 0
        if abs(x[0] - y[0]) <= x[1] + y[1]:
            return 25
        return apart(x[0] * 1000000, y[0] * 1000000)
    if set(x) == set(y):
        return 0
    return 25 if set(x) & set(y) else 100


def pair_cost(s, t):
    f = {k: far(k, s, t) for k in WEIGHT}
    if f["tool"] == 100:
        size = "sizes" in s and "sizes" in t and f["sizes"] <= 50
        part = "part" in s and "part" in t and f["part"] < 50
        if not size and not part:
            return None
    cost = sum(WEIGHT[k] * f[k] for k in WEIGHT)
    cost += 600 * (s["count"] != t["count"]) + 100 * (s["exists"] != t["exists"])
    p, q = s.get("pocket"), t.get("pocket")
    if p != q:
        cost += 300 if p and q else 150
    return cost


def best_cost(cost, n, m):
    """Every partial pairing: slot by slot alone, or with one that is free."""
    def walk(i, free):
        if i == n:
            return ALONE * len(free)
        best = ALONE + walk(i + 1, free)
        for k in free:
            if cost[i][k] is not None:
                best = min(best, cost[i][k] + walk(i + 1, free - {k}))
        return best
    return walk(0, frozenset(range(m)))


# ---- what the tool says -------------------------------------------------

def run(tool, folder, a, b):
    for name, text in (("a.yaml", a), ("b.yaml", b)):
        with open(os.path.join(folder, name), "w", encoding="utf-8") as f:
            f.write(text)
    p = subprocess.run([tool, "compare", "--json", "-q", "a.yaml", "b.yaml"], cwd=folder,
                       capture_output=True, timeout=60)
    if p.returncode not in (0, 1):
        raise AssertionError("exit %d: %s" % (p.returncode, p.stderr.decode()))
    out = json.loads(p.stdout, parse_float=str)
    if (p.returncode == 0) != (not out["differences"]):
        raise AssertionError("exit %d with %d differences" %
                             (p.returncode, len(out["differences"])))
    return out


def pairs_of(out, a_ids, b_ids):
    """Pairs that differ, slots alone on each side, and what differs where."""
    pairs, alone, what = set(), set(), {}
    for d in out["differences"]:
        s, t = d["slot"], d["other_slot"]
        if s is not None and t is not None:
            pairs.add((s, t))
            what.setdefault((s, t), set()).add(d["what"])
        else:
            alone.add(s or t)
    return pairs, alone, what


WORDS = {"tool": "kind of tool", "handle_colour": "handle colour"}


def differing(s, t):
    """What of a pair is to be told."""
    out = {WORDS.get(k, k) for k in WEIGHT if far(k, s, t)}
    if s["count"] != t["count"]:
        out.add("count")
    if s["exists"] != t["exists"]:
        out.add("existence")
    if s.get("pocket") != t.get("pocket"):
        out.add("pocket")
    # the colour has a certainty of its own
    if "handle_colour" in s and "handle_colour" in t and s["sure"] != t["sure"]:
        out.add("handle colour")
    return out


def check_case(tool, folder, seed):
    r = random.Random(seed)
    a, b = make_kits(r)
    a_ids = ["A%d" % i for i in range(len(a))]
    b_ids = ["B%d" % i for i in range(len(b))]
    out = run(tool, folder, text_of("ka", a_ids, a), text_of("kb", b_ids, b))
    pairs, alone, what = pairs_of(out, a_ids, b_ids)
    cost = [[pair_cost(s, t) for t in b] for s in a]
    best = best_cost(cost, len(a), len(b))
    got = ALONE * len(alone)
    for s, t in pairs:
        i, k = a_ids.index(s), b_ids.index(t)
        assert cost[i][k] is not None, "%s with %s is no pair" % (s, t)
        got += cost[i][k]
        assert what[s, t] == differing(a[i], b[k]), \
            "%s with %s: %s, not %s" % (s, t, what[s, t], differing(a[i], b[k]))
    assert got == best, "costs %d, the best %d" % (got, best)
    row = out["kits"][1]
    assert row["unlike"] == "%d.%02d" % divmod(best, 100), \
        "said to cost %s, the best %d" % (row["unlike"], best)
    assert row["differ"] == len(pairs)
    assert row["only_in_first"] + row["only_here"] == len(alone)
    assert row["same"] == len(a) - len(pairs) - len([s for s in alone if s in a_ids])

    # another order of the slots: the same pairs
    order = list(range(len(b)))
    r.shuffle(order)
    moved = run(tool, folder, text_of("ka", a_ids[::-1], a[::-1]),
                text_of("kb", [b_ids[i] for i in order], [b[i] for i in order]))
    assert pairs_of(moved, a_ids, b_ids)[:2] == (pairs, alone), "another order, other pairs"

    # other ids: the same cost
    new_a, new_b = r.sample(range(90), len(a)), r.sample(range(90), len(b))
    new_a, new_b = ["N%d" % i for i in new_a], ["N%d" % i for i in new_b]
    named = run(tool, folder, text_of("ka", new_a, a), text_of("kb", new_b, b))
    seen = {(new_a.index(d["slot"]), new_b.index(d["other_slot"]))
            for d in named["differences"] if d["slot"] and d["other_slot"]}
    lone = sum(1 for d in named["differences"] if not d["slot"] or not d["other_slot"])
    assert sum(cost[i][k] for i, k in seen) + ALONE * lone == best, "other ids, another cost"

    # a kit is the same as itself, whatever the ids
    same = run(tool, folder, text_of("ka", a_ids, a),
               text_of("kb", ["X%d" % i for i in range(len(a))], a[::-1]))
    assert not same["differences"], "a kit differs from itself"
    return len(pairs), len(alone)


def main():
    p = argparse.ArgumentParser()
    p.add_argument("--cases", type=int, default=150)
    p.add_argument("--first", type=int, default=1)
    p.add_argument("tool")
    o = p.parse_args()
    tool = os.path.abspath(o.tool)
    pairs = alone = failed = 0
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(o.first, o.first + o.cases):
            try:
                x, y = check_case(tool, folder, seed)
                pairs += x
                alone += y
            except AssertionError as e:
                failed += 1
                print("compare: seed %d: %s" % (seed, e))
    # by hand: 13 for 12 is 50 + 50 x 1 / 3.25 = 65, an end of two: 32
    assert far_sizes(["10 mm", "12 mm"], ["10 mm", "13 mm"]) == 32
    assert Fraction(far_end("1/4 W", "12 mm"), 1) == 70
    print("compare: %d cases, %d pairs that differ, %d slots alone, %d failed" %
          (o.cases, pairs, alone, failed))
    return 1 if failed or not pairs or not alone else 0


if __name__ == "__main__":
    sys.exit(main())
