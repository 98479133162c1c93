#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Weigh random claims a second time and compare with the sheet `evidence`.

    evidence.py TOOL

A kit of random sources, which depend on each other without a circle, and of
slots that cite some of them for, against and as silent.  Here every way from a
cited source down to its roots is walked, and the first rule of the table in
docs/method.md that holds is taken; which kind of source is strong on what is
read from data/evidence.def.  Certainties that are not stated must be the words
found here, and so must the counts.

Exit: 0 all agree, 1 not.
"""
import json
import os
import random
import re
import subprocess
import sys
import tempfile

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
KINDS = ("parts-list", "drawing", "handbook", "picture", "sales", "photograph",
         "survivor", "book", "recollection", "other")
CLAIMS = {"mark": ("MARK", ("K", "L")), "finish": ("FINISH", ("paint", "nickel")),
          "length": ("DIMENSION", ("200 mm", "300 mm")), "part": ("PART", ("7-1", "7-2"))}
STRONG = {(a.lower().replace("_", "-"), b) for a, b in re.findall(
    r"^STRONG\((\w+), (\w+),", open(TOP + "/data/evidence.def").read(), flags=re.M)}
SEEDS, SLOTS = range(12), 60


def ways(sources, name):
    """Every way from a source to a root, as a list of names."""
    kind, up = sources[name]
    if not up:
        return [[name]]
    return [[name] + rest for u in up for rest in ways(sources, u)]


def side(sources, cited, ground):
    """Roots, and those that some way of strong sources alone leads to."""
    roots, strong = set(), set()
    for name in cited:
        for way in ways(sources, name):
            roots.add(way[-1])
            if all((sources[s][0], ground) in STRONG for s in way):
                strong.add(way[-1])
    return roots, strong


def word(sources, yes, no, silent, ground):
    roots, strong = side(sources, yes, ground)
    against, strong_against = side(sources, no, ground)
    hushed, _ = side(sources, silent, ground)
    seen = [s for s in strong if sources[s][0] == "survivor"]
    if not yes and not no and not silent:
        return "unknown"
    if not yes:
        return "conjecture"
    if strong_against or against and not strong:
        return "disputed"
    if not strong:
        return "possible"
    if len(strong) > 1 and seen and not against and not hushed:
        return "certain"
    return "probable"


def make(r):
    """A kit as text, its sources, and what it cites: (slot, claim, value) to lists."""
    n = r.randint(3, 14)
    sources = {}
    for i in range(n):
        up = r.sample(range(i), min(i, r.choice((0, 0, 0, 1, 1, 2))))
        sources["s%d" % i] = (r.choice(KINDS), ["s%d" % u for u in up])
    cited, slots = {}, []
    for i in range(SLOTS):
        pick = r.sample(sorted(sources), r.randint(1, min(n, 5)))
        yes, no, silent = [], [], []
        for s in pick:
            r.choices((yes, no, silent), (5, 2, 1))[0].append(s)
        cited["S%d" % i, "exists", None] = yes, no, silent
        text = ", ".join("%s: [%s]" % (k, ", ".join(v)) for k, v in
                         (("for", yes), ("against", no), ("silent", silent)) if v)
        key = r.choice(sorted(CLAIMS))
        values = CLAIMS[key][1][:r.randint(1, 2)]
        of = [r.sample(sorted(sources), r.randint(1, min(n, 3))) for _ in values]
        for k, value in enumerate(values):
            cited["S%d" % i, key, k] = of[k], of[1 - k] if len(of) > 1 else [], []
        slots.append("    - {id: S%d, tool: jack, exists: {%s}, %s: [%s]}\n" % (
            i, text, key, ", ".join("{is: %s, sources: [%s]}" % (v, ", ".join(o))
                                    for v, o in zip(values, of))))
    lines = ["    - {id: %s, what: %s%s}\n" % (
        name, kind, ", depends_on: [%s]" % ", ".join(up) if up else "")
        for name, (kind, up) in sources.items()]
    r.shuffle(lines)
    return "kit:\n  id: k\n  sources:\n" + "".join(lines) + "  slots:\n" + "".join(slots), \
        sources, cited


def judge(tool, seed, spoil=False):
    """(what differs, claims compared)"""
    text, sources, cited = make(random.Random(seed))
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "kit.yaml")
        with open(path, "w", encoding="utf-8") as f:
            f.write(text)
        p = subprocess.run([tool, "audit", "--sheet", "evidence", "--json", path],
                           capture_output=True, text=True, timeout=60)
    if p.returncode != 1 or p.stderr:
        return ["seed %d: status %d %s" % (seed, p.returncode, p.stderr)], 0
    found, wrong = {}, []
    for row in json.loads(p.stdout)["claims"]:
        value = None
        if row["claim"] != "exists":
            value = 0 if row["value"].startswith(
                CLAIMS[row["claim"]][1][0].split(" ")[0]) else 1
        found[row["slot"], row["claim"], value] = row
    if set(found) != set(cited):
        wrong.append("seed %d: other claims than in the file" % seed)
    for key in sorted(set(found) & set(cited), key=str):
        yes, no, silent = cited[key]
        ground = "EXISTS" if key[1] == "exists" else CLAIMS[key[1]][0]
        row = found[key]
        ours = (word(sources, yes, no, silent, ground), len(set(yes)),
                len([s for s in yes if sources[s][1]]),
                len(side(sources, yes, ground)[0]), len(side(sources, no, ground)[0]),
                len(side(sources, silent, ground)[0]) + spoil)
        theirs = (row["certainty"], row["mentions"], row["dependent"], row["roots"],
                  row["roots_against"], row["roots_silent"])
        if ours != theirs or row["supports"] != row["certainty"]:
            wrong.append("seed %d: %s: %s, here %s" % (seed, key, theirs, ours))
    return wrong, len(found)


def main():
    tool = os.path.abspath(sys.argv[1])
    wrong, n = [], 0
    for seed in SEEDS:
        w, k = judge(tool, seed)
        wrong += w
        n += k
    if not judge(tool, 0, spoil=True)[0]:
        wrong.append("the judge lets a wrong count pass")
    print("\n".join(wrong[:10]) if wrong else "evidence: %d claims weighed twice" % n)
    return 1 if wrong or not n else 0


if __name__ == "__main__":
    sys.exit(main())
