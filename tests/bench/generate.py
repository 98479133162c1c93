#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Make benches and kits for measuring.

    generate.py bench TOOLS > FILE      a bench of so many tools, a line each
    generate.py below TOOLS > FILE      the same, keys below one another
    generate.py kits KITS FOLDER        so many kits of 12 slots, a file each
    generate.py small FOLDER            12 slots, 40 tools, 30 offers

Marks, makers and figures are invented; the same call always makes the same
bytes.
"""
import random
import re
import sys

SIZES = ["3/16 W", "1/4 W", "5/16 W", "3/8 W", "7/16 W", "1/2 W", "8 mm", "10 mm",
         "12 mm", "13 mm", "14 mm", "17 mm", "19 mm", "7/16 AF", "1/2 AF", "9/16 AF",
         "5/8 AF", "2 BA", "4 BA"]
MARKS = ["HARROWGILL", "HG", "LARKMOOR", "LM", "none", "TARN & SON", "illegible"]
FINISHES = ["black oxide", "bright nickel", "zinc clear", "bare", "cadmium"]
PLACES = ["drawer 1", "drawer 2", "tin by the door", "shelf"]


def attributes(r):
    """(kind, the rest) of one tool."""
    which = r.randrange(10)
    if which < 5:
        a, b = sorted(r.sample(range(len(SIZES)), 2))
        return "double open-ended spanner", "sizes: [%s, %s], length: %d mm" % (
            SIZES[a], SIZES[b], r.randrange(110, 220))
    if which < 7:
        return "screwdriver", "sizes: [%s mm], length: %d mm" % (
            r.choice(["0.8 x 5.5", "1.0 x 5.5", "1.2 x 8", "1.6 x 10"]), r.randrange(120, 260))
    if which < 9:
        return "combination pliers", "length: %d mm" % r.choice([150, 165, 180, 200])
    return "tyre lever", "length: %d mm" % r.randrange(200, 320)


def tool(r, i):
    kind, rest = attributes(r)
    mark = r.choice(MARKS)
    text = "  - {id: T-%d, tool: %s, %s, mark: %s, finish: %s, place: %s" % (
        i, kind, rest, mark, r.choice(FINISHES), r.choice(PLACES))
    if r.randrange(2):
        text += ", condition: {rust: %d, pits: %s, plate_left: %d %%}" % (
            r.randrange(5), r.choice(["none", "few", "general"]), r.randrange(50, 100))
    return text + "}\n"


def bench(n, out):
    r = random.Random(n)
    out.write("bench:\n")
    for i in range(1, n + 1):
        out.write(tool(r, i))


def below(n, out):
    r = random.Random(n)
    out.write("bench:\n")
    for i in range(1, n + 1):
        pairs = re.findall(r"\w+: (?:\[[^]]*\]|\{[^}]*\}|[^,]+)", tool(r, i)[5:-2])
        out.write("  - %s\n" % "\n    ".join(pairs))


def kit(k, out, slots=12):
    r = random.Random(1000 + k)
    out.write("kit:\n  id: kit-%d\n  title: Invented machine %d\n  currency: GBP\n"
              "  maker_marks: [HARROWGILL, HG]\n  slots:\n" % (k, k))
    for i in range(1, slots + 1):
        kind, rest = attributes(r)
        out.write("    - {id: S-%d, tool: %s, %s, mark: HG, finish: %s, part: P-%d}\n"
                  % (i, kind, rest, r.choice(FINISHES), i))


def prices(offers, out):
    r = random.Random(offers)
    out.write("prices:\n  currency: GBP\n  as_of: 2026-04-01\n  sellers:\n"
              "    - {id: north, postage: 4.80, free_over: 60.00}\n"
              "    - {id: fair, postage: 0.00}\n  offers:\n")
    for i in range(1, offers + 1):
        out.write("    - {id: o%d, part: P-%d, seller: %s, state: nos, price: %d.%02d}\n"
                  % (i, r.randrange(1, 13), r.choice(["north", "fair"]),
                     r.randrange(2, 40), r.randrange(100)))


def main():
    what = sys.argv[1] if len(sys.argv) > 1 else ""
    if what == "bench" and len(sys.argv) == 3:
        bench(int(sys.argv[2]), sys.stdout)
    elif what == "below" and len(sys.argv) == 3:
        below(int(sys.argv[2]), sys.stdout)
    elif what == "kits" and len(sys.argv) == 4:
        for k in range(1, int(sys.argv[2]) + 1):
            with open("%s/kit-%02d.yaml" % (sys.argv[3], k), "w") as f:
                kit(k, f)
    elif what == "small" and len(sys.argv) == 3:
        for name, make, n in (("kit", kit, 1), ("bench", bench, 40), ("prices", prices, 30)):
            with open("%s/small-%s.yaml" % (sys.argv[2], name), "w") as f:
                make(n, f)
    else:
        sys.exit(__doc__)


if __name__ == "__main__":
    main()
