#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Take the problem that `--sheet ways --json` prints, and solve it again.

    ways.py TOOL

1. The JSON keeps docs/schema/ways.schema.json (a validator of the few words of
   draft-07 that the schema uses; an unknown word is a failure).
2. The chosen options keep the rules of docs/ways-json.md, and come to the
   points, the money and the value that the plan states.
3. No other plan is better: by enumeration, place after place, keeping of the
   partial plans only what later places can tell apart (what is used of shared
   resources, and pieces and goods of the charges), and of those with the same
   use only the ones that none beats in points and money.

SOURCE json-schema draft-07, validation: type, const, enum, required,
properties, additionalProperties, items, minItems, minimum, maximum, pattern,
oneOf, $ref.

Exit: 0 all agree, 1 not.
"""
import glob
import json
import os
import re
import subprocess
import sys

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
TOOL = os.path.abspath(sys.argv[1])
MOST = 300000			# partial plans of a place; more are not tried


# --- the schema ---------------------------------------------------------

TYPES = {"object": dict, "array": list, "string": str, "boolean": bool,
         "null": type(None)}


def is_type(v, t):
    if t == "integer":
        return isinstance(v, int) and not isinstance(v, bool)
    return isinstance(v, TYPES[t])


def faults(v, s, root, at):
    known = {"$schema", "title", "type", "const", "enum", "required",
             "properties", "additionalProperties", "items", "minItems",
             "minimum", "maximum", "pattern", "oneOf", "$ref", "definitions"}
    assert set(s) <= known, "the schema has %s" % (set(s) - known)
    if "$ref" in s:
        return faults(v, root["definitions"][s["$ref"].split("/")[-1]], root, at)
    out = []
    if "oneOf" in s:
        if sum(not faults(v, o, root, at) for o in s["oneOf"]) != 1:
            out.append("%s: not one of the forms" % at)
    if "type" in s:
        types = s["type"] if isinstance(s["type"], list) else [s["type"]]
        if not any(is_type(v, t) for t in types):
            return out + ["%s: no %s" % (at, types)]
    if "const" in s and v != s["const"]:
        out.append("%s: not %s" % (at, s["const"]))
    if "enum" in s and v not in s["enum"]:
        out.append("%s: not in %s" % (at, s["enum"]))
    if "minimum" in s and is_type(v, "integer") and v < s["minimum"]:
        out.append("%s: too small" % at)
    if "maximum" in s and is_type(v, "integer") and v > s["maximum"]:
        out.append("%s: too large" % at)
    if "pattern" in s and isinstance(v, str) and not re.search(s["pattern"], v):
        out.append("%s: not like %s" % (at, s["pattern"]))
    if isinstance(v, dict):
        out += ["%s: no %s" % (at, k) for k in s.get("required", []) if k not in v]
        for k, x in v.items():
            if k in s.get("properties", {}):
                out += faults(x, s["properties"][k], root, at + "." + k)
            elif s.get("additionalProperties") is False:
                out.append("%s: also has %s" % (at, k))
    if isinstance(v, list):
        if len(v) < s.get("minItems", 0):
            out.append("%s: too short" % at)
        for i, x in enumerate(v):
            if "items" in s:
                out += faults(x, s["items"], root, "%s[%d]" % (at, i))
    return out


# --- the problem --------------------------------------------------------

def charge_cost(c, n, goods):
    """Without the minimum of a charge in a group."""
    if n == 0:
        return 0
    if c["kind"] == "parcel":
        up = max(0, c["minimum_order"] - goods)
        assert c["top_up"] or not up
        free = c["free_over"] is not None and goods + up >= c["free_over"]
        return up + (0 if free else c["postage"])
    assert c["most"] is None or n <= c["most"]
    cost = c["table"][min(n, len(c["table"]) - 1)]
    return cost + (c["minimum"] if c["group"] is None else 0)


def charges_cost(d, uses):
    """uses: {charge: (pieces, goods)}"""
    cost = sum(charge_cost(d["charges"][i], *u) for i, u in uses.items())
    for g in d["groups"]:
        minimums = sorted((c["minimum"] for c in d["charges"]
                           if c["group"] == g["group"] and
                           uses.get(c["charge"], (0, 0))[0]), reverse=True)
        cost += sum(minimums[:g["paid"]])
    return cost


def add_uses(uses, option):
    out = dict(uses)
    for u in option["uses"]:
        n, goods = out.get(u["charge"], (0, 0))
        out[u["charge"]] = (n + 1, goods + u["goods"])
    return out


def value_of(d, points, money):
    return d["asked"]["points_weight"] * points + d["asked"]["money_weight"] * money


def keeps(d, points, money):
    a = d["asked"]
    return (a["budget"] is None or money <= a["budget"]) and \
        (a["limit"] is None or points <= a["limit"])


def check_plan(d):
    by = {o["option"]: o for o in d["options"]}
    used, uses, points, money = {}, {}, 0, 0
    for i, p in enumerate(d["places"]):
        o = by[p["chosen"]]
        assert p["place"] == i and o["place"] == i and o["allowed"], p
        for r in o["resources"]:
            used[r] = used.get(r, 0) + 1
        uses = add_uses(uses, o)
        points += o["points"]
        money += o["money"]
    for r, n in used.items():
        assert n <= d["resources"][r]["capacity"], d["resources"][r]
    money += charges_cost(d, uses)
    plan = d["plan"]
    assert (points, money) == (plan["points"], plan["money"]), \
        "the plan comes to %d points and %d, not %s" % (points, money, plan)
    if plan["feasible"]:
        assert keeps(d, points, money), "the plan passes a limit"
        assert value_of(d, points, money) == plan["value"], plan
        assert plan["bound"] <= plan["value"], plan
        assert not plan["proved"] or plan["bound"] == plan["value"], plan


def best_value(d):
    """The least value of any plan; None: no plan; False: too many to try."""
    shared = {}
    for o in d["options"]:
        for r in o["resources"]:
            shared.setdefault(r, set()).add(o["place"])
    tight = {r for r, places in shared.items()
             if len(places) > d["resources"][r]["capacity"]}
    partial = {((), ()): {(0, 0)}}
    for place in range(len(d["places"])):
        options = [o for o in d["options"]
                   if o["place"] == place and o["allowed"]]
        after = {}
        for (used, uses), sums in partial.items():
            for o in options:
                now = dict(used)
                for r in o["resources"]:
                    if r in tight:
                        now[r] = now.get(r, 0) + 1
                if any(n > d["resources"][r]["capacity"] for r, n in now.items()):
                    continue
                key = (tuple(sorted(now.items())),
                       tuple(sorted(add_uses(dict(uses), o).items())))
                after.setdefault(key, set()).update(
                    (p + o["points"], m + o["money"]) for p, m in sums)
        for key, sums in after.items():
            kept, least = set(), None
            for p, m in sorted(sums):
                if least is None or m < least:
                    kept.add((p, m))
                    least = m
            after[key] = kept
        partial = after
        if sum(map(len, partial.values())) > MOST:
            return False
    values = [value_of(d, p, m + cost)
              for (_, uses), sums in partial.items()
              for cost in [charges_cost(d, dict(uses))]
              for p, m in sums if keeps(d, p, m + cost)]
    return min(values) if values else None


def problem(args):
    got = subprocess.run([TOOL, "audit", "--sheet", "ways", "--json", *args],
                         stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert got.returncode in (0, 1), got.stderr.decode()
    return json.loads(got.stdout)


def main():
    with open(TOP + "/docs/schema/ways.schema.json") as f:
        schema = json.load(f)
    machines = [sorted(glob.glob(k.split(".kit.")[0] + ".*"))
                for k in sorted(glob.glob(TOP + "/demo/*.kit.yaml"))]
    assert machines, "no demo"
    solved = tried = 0
    for files in machines:
        for aim in ([], ["--budget", "15.00"], ["--budget", "60.00"],
                    ["--points", "2.00"], ["--points", "0"],
                    ["--standard", "usable"]):
            d = problem(aim + files)
            bad = faults(d, schema, schema, "$")
            assert not bad, "\n".join(bad[:5])
            tried += 1
            if not d["plan"]:
                continue
            check_plan(d)
            best = best_value(d)
            if best is False:
                continue
            solved += 1
            if not d["plan"]["feasible"]:
                assert best is None, "%s: a plan keeps the limits" % aim
            elif d["plan"]["proved"]:
                assert best == d["plan"]["value"], \
                    "%s %s: %s is better than %s" % (files[0], aim, best,
                                                     d["plan"])
            else:
                assert d["plan"]["bound"] <= best <= d["plan"]["value"]
    assert solved, "nothing could be enumerated"
    print("ways.py: %d problems keep the schema, %d plans found again by "
          "enumeration" % (tried, solved))


try:
    main()
except AssertionError as wrong:
    print("ways.py:", wrong)
    sys.exit(1)
