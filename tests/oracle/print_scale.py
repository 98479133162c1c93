#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Print drawings at true size with a browser, and measure the paper.

    print_scale.py PROGRAM          PROGRAM is kitmuster

The page that a browser prints must have the size of the paper, and at 254
dots an inch, 10 to a millimetre, each check bar of 100 mm must be 1000 dots
long, +-2, a bar of 125 mm in the kit 1250, and the edges of a straight jaw of
12 mm lie 120 apart.  In the report the drawings are found among its other
pages by their bars.

SOURCE css-values-3, section 6.2: 1 in is 2.54 cm; ISO 216: A4 is 210 x 297
mm; letter paper is 8.5 x 11 in.  Chromium rounds A4 to 594.96 x 841.92
points.

Exit: 0 all as long as they should be, 1 not, 77 no browser or no poppler.
"""
import os
import shutil
import subprocess
import sys
import tempfile

KIT = """\
kit:
  id: scale
  title: Bars
  slots:
    - {id: S-01, tool: tommy bar, bar: 10 mm, length: 125 mm}
    - {id: S-02, tool: double open-ended spanner, sizes: [12 mm, 13 mm],
       angle: 0 deg}
    - {id: S-03, tool: tyre lever, length: 400 mm}
"""
BROWSERS = ("chromium", "chromium-browser", "google-chrome")
PAPERS = {"a4": ((594.96, 841.92), (210, 297)),
          "letter": ((612, 792), (215.9, 279.4))}
DARK = 128


def longest_run(line):
    best = run = 0
    for value in line:
        run = run + 1 if value < DARK else 0
        best = max(best, run)
    return best


def pages_of(pdf, folder):
    stem = os.path.join(folder, "page")
    subprocess.run(["pdftoppm", "-r", "254", "-gray", pdf, stem], check=True)
    names = sorted(n for n in os.listdir(folder) if n.endswith(".pgm"))
    for name in names:
        path = os.path.join(folder, name)
        with open(path, "rb") as f:
            data = f.read()
        os.remove(path)
        _, width, height, _ = data.split(None, 4)[:4]
        width, height = int(width), int(height)
        dots = data[-width * height:]
        yield [dots[i * width:(i + 1) * width] for i in range(height)]


def row_run(rows, at):
    return max(longest_run(rows[y]) for y in range(at - 6, at + 7))


def column_run(rows, at):
    return max(longest_run([r[x] for r in rows])
               for x in range(at - 6, at + 7))


def jaw_columns(rows, apart):
    """How many columns in a row cross two edges so many dots apart."""
    def edges(x):
        dark = [y for y in range(350, 2000) if rows[y][x] < DARK]
        begun = [y for i, y in enumerate(dark)
                 if i == 0 or dark[i - 1] != y - 1]
        ended = [y for i, y in enumerate(dark)
                 if i + 1 == len(dark) or dark[i + 1] != y + 1]
        return [(a + b) / 2 for a, b in zip(begun, ended)]
    best = run = 0
    for x in range(100, 400):
        middle = edges(x)
        there = any(abs(b - a - apart) <= 2
                    for a, b in zip(middle, middle[1:]))
        run = run + 1 if there else 0
        best = max(best, run)
    return best


def check(what, got, want, slack):
    good = abs(got - want) <= slack
    print("print_scale.py: %-32s %8.2f, wanted %g +-%g%s" % (
        what, got, want, slack, "" if good else "  WRONG"))
    return good


def page_sizes(pdf):
    said = subprocess.run(["pdfinfo", "-l", "999", pdf], check=True,
                          stdout=subprocess.PIPE, text=True).stdout
    for line in said.splitlines():
        if line.startswith("Page") and "size:" in line:
            words = line.split("size:")[1].split()
            yield float(words[0]), float(words[2])


def one_sheet(program, browser, sheet, paper, folder):
    kit = os.path.join(folder, "scale.kit.yaml")
    page = os.path.join(folder, "sheet.html")
    pdf = os.path.join(folder, "sheet.pdf")
    with open(kit, "w") as f:
        f.write(KIT)
    st = subprocess.run([program, "audit", "--sheet", sheet, "--format",
                         "html", "--paper", paper, "-o", page, kit])
    if st.returncode not in (0, 1):
        print("print_scale.py: %s: exit %d" % (sheet, st.returncode))
        return False
    subprocess.run([browser, "--headless", "--no-sandbox", "--disable-gpu",
                    "--user-data-dir=" + os.path.join(folder, "profile"),
                    "--no-pdf-header-footer", "--print-to-pdf=" + pdf,
                    "file://" + page], check=True, timeout=180,
                   stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    with open(page) as f:
        wanted = f.read().count('<div class="page">')
    return measure(pdf, folder, sheet, paper, wanted)


def measure(pdf, folder, sheet, paper, wanted):
    """All pages of one document; wanted: how many have bars."""
    (wide, high), (width, height) = PAPERS[paper]
    sizes = list(page_sizes(pdf))
    good = bool(sizes)
    for w, h in sizes[:1]:
        good &= check("%s %s width, pt" % (sheet, paper), w, wide, 0.5)
        good &= check("%s %s height, pt" % (sheet, paper), h, high, 0.5)
    good &= all(s == sizes[0] for s in sizes)
    drawn = 0
    for n, rows in enumerate(pages_of(pdf, folder), 1):
        across = row_run(rows, round((height - 15.7) * 10))
        down = column_run(rows, round((width - 12.7) * 10))
        # a table may have one long line there; a bar that is too short is
        # missed here, and by the count below
        if sheet == "report" and min(across, down) < 900:
            continue
        good &= check("page %d, bar across, dots" % n, across, 1000, 2)
        good &= check("page %d, bar down, dots" % n, down, 1000, 2)
        drawn += 1
        if drawn == 1 and sheet != "size-strip":    # the first two tools
            top = max(longest_run(r) for r in rows[350:600])
            good &= check("a bar of 125 mm, dots", top, 1250, 4)
            good &= check("columns with a jaw of 12 mm",
                          min(40, jaw_columns(rows, 120)), 40, 0)
            good &= check("and with one of 12.6 mm", jaw_columns(rows, 126),
                          0, 9)
    good &= check("pages with bars", drawn, wanted, 0)
    return good


def main():
    browser = next(filter(None, map(shutil.which, BROWSERS)), None)
    if not browser or not shutil.which("pdftoppm"):
        print("print_scale.py: skipped, no browser or no poppler")
        return 77
    good = True
    for sheet, paper in (("outline", "a4"), ("outline", "letter"),
                         ("size-strip", "a4"), ("report", "a4"),
                         ("report", "letter")):
        with tempfile.TemporaryDirectory() as folder:
            good &= one_sheet(os.path.abspath(sys.argv[1]), browser, sheet,
                              paper, folder)
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
