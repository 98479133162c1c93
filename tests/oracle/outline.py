#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""No line of a drawing at true size lies where a printer cannot print.

    outline.py PROGRAM              PROGRAM is kitmuster

Every corner of every path, and every text, of the outlines of the demo kits
and of one kit of odd sizes must lie 10 mm or more from the edges of the
paper.  SOURCE common-practice: the border a printer leaves.
"""
import glob
import os
import re
import subprocess
import sys
import tempfile

PAPERS = {"a4": (210, 297), "letter": (215.9, 279.4)}
EDGE = 10
ODD = """\
kit:
  id: odd
  title: Odd sizes
  slots:
    - {id: A, tool: double open-ended spanner, sizes: [36 mm, 41 mm], length: 60 mm}
    - {id: B, tool: box spanner, sizes: [10 mm, 36 mm], length: 20 mm}
    - {id: C, tool: hook spanner, sizes: [400-450 mm], length: 150 mm}
    - {id: D, tool: tyre lever, length: 900 mm, width: 60 mm}
    - {id: E, tool: combination pliers, length: 60 mm, width: 90 mm}
    - {id: F, tool: hexagon key, sizes: [36 mm], length: 40 mm}
    - {id: I, tool: hammer, length: 260 mm, width: 100 mm}
    - {id: J, tool: adjustable spanner, length: 155 mm, jaw: 19 mm}
    - {id: K, tool: oil can, length: 140 mm, width: 60 mm}
    - {id: L, tool: tool roll, length: 180 mm, width: 140 mm}
    - {id: M, tool: socket, sizes: [17 mm], length: 40 mm, width: 24 mm}
    - {id: N, tool: hammer, length: 60 mm, width: 90 mm}
    - {id: G, tool: tommy bar, bar: 300 mm, length: 310 mm}
    - {id: H, tool: screwdriver, drive: slotted, sizes: [2.5 x 14 mm], length: 215 mm}
"""


def points(page):
    # the table of what is drawn is not at true size
    page = page.split('<div class="screen">')[0]
    # parts and marks are windows of their own
    page = re.sub(r"<svg x=.*?</svg>", "", page, flags=re.S)
    for d in re.findall(r'<path[^>]* d="([^"]*)"', page):
        for letter, figures in re.findall(r"([MLAQ])([^MLAQZ]*)", d):
            v = [float(x) for x in figures.split()]
            yield v[-2], v[-1]
    for x, y in re.findall(r'<text x="([\d.-]+)" y="([\d.-]+)"', page):
        yield float(x), float(y)


def windows(page):
    for x, y, w, h in re.findall(r'<svg x="([\d.-]+)" y="([\d.-]+)" '
                                 r'width="([\d.]+)" height="([\d.]+)"', page):
        yield float(x), float(y)
        yield float(x) + float(w), float(y) + float(h)


def main():
    program, seen, bad = sys.argv[1], 0, 0
    with tempfile.TemporaryDirectory() as folder:
        odd = os.path.join(folder, "odd.kit.yaml")
        with open(odd, "w") as f:
            f.write(ODD)
        kits = [[odd]] + [[k] + glob.glob(k.replace(".kit.yaml", ".bench.*"))
                          for k in sorted(glob.glob("demo/*.kit.yaml"))]
        for files in kits:
            for paper, (width, height) in PAPERS.items():
                page = subprocess.run(
                    [program, "audit", "-q", "--sheet", "outline", "--format",
                     "html", "--paper", paper] + files,
                    stdout=subprocess.PIPE, text=True).stdout
                for x, y in list(points(page)) + list(windows(page)):
                    seen += 1
                    if not (EDGE - .01 <= x <= width - EDGE + .01 and
                            EDGE - .01 <= y <= height - EDGE + .01):
                        bad += 1
                        print("outline.py: %s %s: (%g, %g) is off the paper"
                              % (files[0], paper, x, y))
    print("outline.py: %d points, %d off the paper" % (seen, bad))
    return 0 if seen > 1000 and not bad else 1


if __name__ == "__main__":
    sys.exit(main())
