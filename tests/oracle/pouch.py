#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Bundles in a pouch: the search against every layout, one by one.

    pouch.py PROGRAM        PROGRAM is pouch_oracle

A layout parts the tools into stacks, turns each flat or on edge, and stands
the blocks on one line in some order.  Here all of them are listed, in every
order, and the perimeter of each is that of the convex hull of all corners
(Andrew's chain, in floating point).  The program must find a layout as flat
and as small; it tries fewer orders, which this also proves to be enough.

SOURCE computed: plain geometry, nothing from the program.
"""
import itertools
import math
import random
import subprocess
import sys

CASES = 150


def partitions(items):
    if not items:
        yield []
        return
    first, rest = items[0], items[1:]
    for p in partitions(rest):
        yield [[first]] + p
        for i in range(len(p)):
            yield p[:i] + [[first] + p[i]] + p[i + 1:]


def hull_length(points):
    points = sorted(set(points))

    def half(ps):
        chain = []
        for x, y in ps:
            while len(chain) > 1:
                (ax, ay), (bx, by) = chain[-2], chain[-1]
                if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0:
                    break
                chain.pop()
            chain.append((x, y))
        return chain
    ring = half(points)[:-1] + half(points[::-1])[:-1]
    return sum(math.dist(a, b) for a, b in zip(ring, ring[1:] + ring[:1]))


def layouts(tools):
    for parts in partitions(list(range(len(tools)))):
        blocks = [(max(tools[i][0] for i in s), sum(tools[i][1] for i in s))
                  for s in parts]
        for turn in itertools.product((False, True), repeat=len(blocks)):
            turned = [(h, w) if e else (w, h)
                      for (w, h), e in zip(blocks, turn)]
            for order in itertools.permutations(turned):
                x, corners = 0, []
                for w, h in order:
                    corners += [(x, 0), (x, h), (x + w, 0), (x + w, h)]
                    x += w
                yield hull_length(corners), max(h for _, h in turned)


def one_case(rng, serve):
    n = rng.choice([1, 2, 3, 3, 4, 4, 4, 5])
    tools = [(rng.randint(3000, 60000), rng.randint(1000, 20000))
             for _ in range(n)]
    if rng.random() < 0.3:
        tools = [(w, w) for w, _ in tools]
    found = list(layouts(tools))
    least = min(p for p, _ in found)
    room = int(least * rng.choice([0.9, 1.0001, 1.1, 1.4]))
    serve.stdin.write("%d 100000000 %d %s\n" % (
        room, n, " ".join("%d %d" % t for t in tools)))
    serve.stdin.flush()
    fits, whole, perimeter, thick, _, _ = map(
        int, serve.stdout.readline().split())
    slack = 2 * n + 4           # every slope is rounded up to a micrometre
    inside = [(t, p) for p, t in found if p <= room]
    near = [(t, p) for p, t in found if p <= room - slack]
    good = whole == 1 and fits <= bool(inside) and fits >= bool(near)
    if good and fits:
        best = min(inside)
        good = (perimeter <= room and best[0] <= thick <= min(near or
                                                               [best])[0])
        least = min(p for t, p in (inside) if t == thick)
    if good:
        good = least - 1e-3 <= perimeter <= least + slack
    if not good:
        print("pouch.py: room %d tools %s: got %d %d %d, least %.1f" % (
            room, tools, fits, perimeter, thick, least))
    return good


def main():
    rng = random.Random(20260401)
    with subprocess.Popen([sys.argv[1], "serve"], stdin=subprocess.PIPE,
                          stdout=subprocess.PIPE, text=True) as serve:
        good = sum(one_case(rng, serve) for _ in range(CASES))
        serve.stdin.close()
    print("pouch.py: %d of %d bundles as by hand" % (good, CASES))
    return 0 if good == CASES and CASES > 0 else 1


if __name__ == "__main__":
    sys.exit(main())
