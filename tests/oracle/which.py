#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Rank random kits by the tools of a machine, and rank them again.

    which.py [--cases N] [--first SEED] TOOL

Each case is a kit of eight slots, kits that differ from it in four slots, one
that was drawn anew and one without evidence for some slots; and tools that
came with the machine: most of one kit's, some lost, some changed, some
strays.  Of `which --json`

* what each kit explains, its variants, strays, differences, agreements and
  empty places are those of the best of all assignments of its tools, by
  dynamic programming over the sets of tools, in the order of docs/method.md;
* the kits stand in that order, and share ranks where they are equal;
* the tools of the first kits are told as their assignment has them;
* rust and damage, shuffled files and other tools on the bench change nothing;
* what the record says against a kit is told, and moves only kits that explain
  equally well.

The rules of a single comparison are those of docs/method.md: a tyre lever is a
candidate within 25 per cent of the length, a spanner with one size in common
(the sizes here are so far apart that none serves for another).  A reading in
whole millimetres is known to half of one.

Exit: 0 all agree, 1 not.
"""
import argparse
import json
import os
import random
import subprocess
import sys
import tempfile

SIZES = ["8 mm", "10 mm", "13 mm", "17 mm", "22 mm"]
SPANNER, LEVER, PLIERS = "double open-ended spanner", "tyre lever", "combination pliers"
MARKS = ["LARKMOOR", "HEVERING"]
FINISHES = ["black oxide", "bright nickel"]


# ---- kits and tools -----------------------------------------------------

def make_slot(r):
    s = {"tool": r.choice([SPANNER, SPANNER, LEVER, PLIERS]),
         "length": (r.choice([150, 160, 170, 240]), 3), "firm": True}
    if s["tool"] == SPANNER:
        s["sizes"] = r.sample(SIZES, 2)
    if r.random() < 0.7:
        s["mark"] = r.choice(MARKS)
    if r.random() < 0.7:
        s["finish"] = r.choice(FINISHES)
    return s


def make_tool(r, s):
    """A tool that left the factory for a slot, as it is recorded now."""
    t = {"tool": s["tool"], "length": s["length"][0] + r.choice([-3, 0, 0, 2])}
    if "sizes" in s:
        t["sizes"] = s["sizes"][::r.choice([-1, 1])]
    for k in ("mark", "finish"):
        if r.random() < 0.8:
            t[k] = s.get(k, r.choice(MARKS if k == "mark" else FINISHES))
    if r.random() < 0.15:
        del t["length"]
    if r.random() < 0.2:
        t["length"] = r.choice([150, 161, 178, 240])
    if r.random() < 0.15:
        t["mark"] = "none"
    return t


def make_case(r):
    base = [make_slot(r) for _ in range(8)]
    kits = [base]
    for _ in range(r.randrange(2, 5)):
        kit = [dict(s) for s in base]
        for i in r.sample(range(8), 4):
            kit[i] = make_slot(r)
        r.shuffle(kit)
        kits.append(kit)
    kits.append([make_slot(r) for _ in range(r.randrange(2, 9))])
    doubtful = [dict(s) for s in r.choice(kits)]
    for s in r.sample(doubtful, min(2, len(doubtful))):
        s["firm"] = False
    kits.append(doubtful)
    tools = [make_tool(r, s) for s in r.choice(kits) if r.random() < 0.7]
    tools += [make_tool(r, make_slot(r)) for _ in range(r.randrange(0, 3))]
    return kits, tools[:7] or [make_tool(r, make_slot(r))]


def slot_text(i, s):
    say = ["id: S-%d" % i, "tool: %s" % s["tool"], "length: %d mm +-%d" % s["length"]]
    if "sizes" in s:
        say.append("sizes: [%s]" % ", ".join(s["sizes"]))
    say += ["%s: %s" % (k, s[k]) for k in ("mark", "finish") if k in s]
    if not s["firm"]:
        say.append("exists: {certainty: possible}")
    return "    - {%s}\n" % ", ".join(say)


def tool_text(i, t, came, wear):
    say = ["id: T-%d" % i, "tool: %s" % t["tool"]]
    if came:
        say.append("came_with: serial 4417")
    if "length" in t:
        say.append("length: %d mm" % t["length"])
    if "sizes" in t:
        say.append("sizes: [%s]" % ", ".join(t["sizes"]))
    say += ["%s: %s" % (k, t[k]) for k in ("mark", "finish") if k in t]
    if wear:
        say.append("condition: {rust: 5, pits: general, damage: [{what: cracked}]}")
    return "  - {%s}\n" % ", ".join(say)


# ---- the same from the rules --------------------------------------------

def compare(s, t):
    """None, or (differ, unknown, agree)."""
    if s["tool"] != t["tool"]:
        return None
    differ = unknown = agree = 0
    if s["tool"] == SPANNER:
        if not set(s["sizes"]) & set(t["sizes"]):
            return None
        if set(s["sizes"]) == set(t["sizes"]):
            agree += 2		# the widths, and what is struck
        else:
            differ += 1
    low, high = s["length"][0] - s["length"][1], s["length"][0] + s["length"][1]
    have = t.get("length")
    if have is None:
        unknown += 1
    elif have + 0.5 >= low and have - 0.5 <= high:
        agree += 1
    else:
        differ += 1
    if s["tool"] != SPANNER and have is not None and \
            not 0.75 * s["length"][0] <= have <= 1.25 * s["length"][0]:
        return None
    for k in ("mark", "finish"):
        if k not in s:
            continue
        if k not in t:
            unknown += 1
        elif t[k] == s[k]:
            agree += 1
        else:
            differ += 1
    return differ, unknown, agree


def explain(kit, tools):
    """The best assignment: (explained, seated, -differ, firm, agree)."""
    best = {0: (0, 0, 0, 0, 0)}
    for s in kit:
        new = dict(best)
        for i, t in enumerate(tools):
            c = compare(s, t)
            if c is None:
                continue
            for used, v in best.items():
                if used >> i & 1:
                    continue
                w = (v[0] + (c[0] == 0), v[1] + 1, v[2] - c[0], v[3] + s["firm"], v[4] + c[2])
                key = used | 1 << i
                if key not in new or w > new[key]:
                    new[key] = w
        best = new
    return max(best.values())


def figures(kit, tools):
    explained, seated, differ, firm, agree = explain(kit, tools)
    places = sum(s["firm"] for s in kit)
    return {"explained": explained, "variants": seated - explained,
            "strays": len(tools) - seated, "differences": -differ, "agreements": agree,
            "places": places, "empty": places - firm}


def order(f):
    return (-f["explained"], f["strays"], f["differences"], f["empty"], -f["agreements"])


# ---- the tool -----------------------------------------------------------

def run(tool, folder, files):
    for name in os.listdir(folder):
        os.unlink(os.path.join(folder, name))
    for name, text in files.items():
        with open(os.path.join(folder, name), "w", encoding="utf-8") as f:
            f.write(text)
    p = subprocess.run([tool, "which", "--json", "-q"] + list(files), cwd=folder,
                       capture_output=True, timeout=60)
    assert p.returncode == 0, "exit %d: %s" % (p.returncode, p.stderr.decode())
    return json.loads(p.stdout)


def files_of(kits, tools, strangers=(), wear=False, serials=None):
    out = {}
    for n, kit in enumerate(kits):
        text = "kit:\n  id: kit-%02d\n" % n
        if serials:
            text += "  serials: {from: %d, to: %d}\n" % serials[n]
        out["k%02d.yaml" % n] = text + "  slots:\n" + \
            "".join(slot_text(i, s) for i, s in enumerate(kit))
    bench = [tool_text(i, t, True, wear) for i, t in enumerate(tools)]
    bench += [tool_text(100 + i, t, False, False) for i, t in enumerate(strangers)]
    out["bench.yaml"] = "machine: {serial: 4417}\nbench:\n" + "".join(bench)
    return out


def check_tools(out, kits, tools):
    """The tools of the first kits add up to what is said of those."""
    for row in out["kits"][:3]:
        kit = kits[int(row["kit"][4:])]
        mine = [t for t in out["tools"] if t["kit"] == row["kit"]]
        assert len(mine) == len(tools)
        seats = [t["slot"] for t in mine if t["slot"]]
        assert len(seats) == len(set(seats)), "two tools in one slot"
        differ = agree = full = part = 0
        for t in mine:
            have = tools[int(t["tool"][2:])]
            if not t["slot"]:
                assert t["how"] == "stray"
                continue
            c = compare(kit[int(t["slot"][2:])], have)
            assert c is not None, "%s is no candidate" % t["tool"]
            differ += c[0]
            agree += c[2]
            full += c[0] == 0 and c[1] == 0
            part += c[0] == 0 and c[1] > 0
            assert t["how"] == ("variant" if c[0] else
                                "as-far-as-recorded" if c[1] else "explained"), t
        assert (differ, agree, full, part) == (
            row["differences"], row["agreements"], row["in_full"],
            row["as_far_as_recorded"]), row
        empty = {e["slot"] for e in out["empty"] if e["kit"] == row["kit"]}
        assert len(empty) == row["empty"]
        assert not empty & set(seats)


def check_case(tool, folder, seed):
    r = random.Random(seed)
    kits, tools = make_case(r)
    files = files_of(kits, tools)
    out = run(tool, folder, files)
    want = [figures(k, tools) for k in kits]
    expected = sorted(range(len(kits)), key=lambda n: (order(want[n]), n))
    assert [row["kit"] for row in out["kits"]] == ["kit-%02d" % n for n in expected], \
        "another order"
    for at, row in enumerate(out["kits"]):
        n = expected[at]
        assert row["goes_by"] == "came-with" and row["tools"] == len(tools)
        for k, v in want[n].items():
            assert row[k] == v, "%s: %s %d, not %d" % (row["kit"], k, row[k], v)
        first = next(i for i, m in enumerate(expected) if order(want[m]) == order(want[n]))
        assert row["rank"] == first + 1
    check_tools(out, kits, tools)

    # wear, the order of the files, and tools that came with nothing
    names = list(files)
    r.shuffle(names)
    worn = files_of(kits, tools, [make_tool(r, make_slot(r)) for _ in range(3)], True)
    again = run(tool, folder, {n: worn[n] for n in names})
    assert again["kits"] == out["kits"], "wear, order or strangers changed the ranks"

    # the record: told, and it moves only what is equal
    serials = [r.choice([(1, 4000), (4001, 5000), (5001, 6000)]) for _ in kits]
    told = run(tool, folder, files_of(kits, tools, serials=serials))
    outside = [0 if a <= 4417 <= b else a - 4417 if a > 4417 else 4417 - b for a, b in serials]
    expected = sorted(range(len(kits)), key=lambda n: (order(want[n]), outside[n] > 0, n))
    assert [row["kit"] for row in told["kits"]] == ["kit-%02d" % n for n in expected]
    for row in told["kits"]:
        by = outside[int(row["kit"][4:])]
        assert (row["serial_outside_by"] or 0) == by and bool(row["against_it"]) == (by > 0)
    return sum(f["variants"] for f in want), sum(f["strays"] for f in want), \
        len(kits) - len({order(f) for f in want})


def main():
    p = argparse.ArgumentParser()
    p.add_argument("--cases", type=int, default=120)
    p.add_argument("--first", type=int, default=1)
    p.add_argument("tool")
    o = p.parse_args()
    tool = os.path.abspath(o.tool)
    variants = strays = ties = failed = 0
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(o.first, o.first + o.cases):
            try:
                v, s, t = check_case(tool, folder, seed)
                variants, strays, ties = variants + v, strays + s, ties + t
            except AssertionError as e:
                failed += 1
                print("which: seed %d: %s" % (seed, e))
    print("which: %d cases, %d variants, %d strays, %d ties, %d failed" %
          (o.cases, variants, strays, ties, failed))
    return 1 if failed or not variants or not strays or not ties else 0


if __name__ == "__main__":
    sys.exit(main())
