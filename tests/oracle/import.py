#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Tables in and out against Python's csv module: import.py TOOL

A thousand random tables, seeds fixed, as spreadsheets write them: any columns
in any order and case, any of three signs between the cells, with or without a
byte order mark, CR LF or LF, decimal commas, columns of one's own, damaged
cells.  For each, what Python reads from the table is compared with what it
reads from the tool's own table of it:

- as many rows are read and refused as were made good and bad
- every value arrives: texts as they are, lengths as exact fractions, sizes by
  their letters, what was not recorded as nothing
- to YAML and back to a table and to YAML again changes no byte, and `check`
  finds no mistake in the YAML

SOURCE python-csv: csv.writer and csv.reader.  The values that a cell stands
for are worked here from the cell that was made, not from the tool.
"""
import csv
import fractions
import io
import os
import random
import re
import subprocess
import sys
import tempfile

TOOL = os.path.abspath(sys.argv[1])
TABLES, EACH = 1000, 25       # tables, and how many one run of the tool reads
KINDS = ["ring spanner", "double open-ended spanner", "box spanner"]
SIZES = [("1/4", "W"), ("5/16", "W"), ("3/8", "BS"), ("7/16", "AF"), ("13", "mm"),
         ("2", "BA"), ("17", "mm")]
# a column: what it may be called, and the column it comes out as
NAMES = {
    "id": ["id", "No", "Tag", "NUMBER", "ref"], "tool": ["tool", "Type", "kind", "Name"],
    "size 1": ["size 1", "Size1", "SIZE_1"], "size 2": ["size 2", "Size2"],
    "length": ["length", "Overall length", "LENGTH", "l\u00e4nge"],
    "mark": ["mark", "Marks", "Stamped"], "rust": ["rust", "Rust grade", "Ri"],
    "pits": ["pits", "Pitting"], "place": ["place", "Location", "Bin"],
    "owner": ["owner", "Belongs to"], "note": ["note", "Notes", "Remarks"],
    "plate_left": ["plate left", "Finish %", "plate_left"],
    "status": ["status", "State"],
}
TEXTS = ["shelf", "drawer 2", "O'Hara", "=1+1", "-x", "@home", "+44", "none", "n/a x",
         "caf\u00e9", "two\nlines", 'the "good" one', "a, b; c", "\u00bd", "#14", "{x}", "[y]",
         "a: b", "1e3", "012", "yes", "null", "~", "'quoted'", "% off", "&a", "*b", "!c", "|"]
OWN = ["Dealer", "Shelf mark", "grade", "Bought, where", "x;y", "r\u00e9f", "Date seen"]
STATES = {"own": "here", "loan": "lent", "at plater": "at-plater", "here": "here",
          "on order": "ordered", "": ""}
NOTHING = ["", "-", "?", "n/a", "\u2014"]


def length(r):
    """(cell, millimetres) of a length."""
    which = r.randrange(6)
    n, d = r.randrange(20, 400), r.randrange(10)
    if which == 0:
        return "%d mm" % n, fractions.Fraction(n)
    if which == 1:
        return "%d,%d mm" % (n, d), n + fractions.Fraction(d, 10)
    if which == 2:
        return "%d.%d" % (n, d), n + fractions.Fraction(d, 10)
    inches = r.randrange(2, 14)
    mm = (inches + fractions.Fraction(1, 2)) * fractions.Fraction(254, 10)
    if which == 3:
        return "%d 1/2 in" % inches, mm
    if which == 4:
        return '%d\u00bd"' % inches, mm
    return "%d 1/2 in (%s mm)" % (inches, float(mm)), mm


def row(r, columns, number):
    """(cells by column, values by column; None: the row must be refused)."""
    cells = {c: "" for c in columns}
    want = {}
    cells["id"] = want["id"] = "T-%d" % number
    cells["tool"] = want["tool"] = r.choice(KINDS)
    for c in columns:
        if c in ("id", "tool"):
            continue
        if r.random() < 0.3:
            cells[c] = r.choice(NOTHING) if c in NAMES and c != "note" else ""
            continue
        if c.startswith("size"):
            figure, letters = r.choice(SIZES)
            cells[c] = figure + r.choice(["", " "]) + letters
            want[c] = figure + " " + letters
        elif c == "length":
            cells[c], want[c] = length(r)
        elif c == "rust":
            want[c] = str(r.randrange(6))
            cells[c] = r.choice(["", "Ri "]) + want[c]
        elif c == "pits":
            want[c] = cells[c] = r.choice(["none", "few", "general"])
        elif c == "plate_left":
            n = r.randrange(101)
            want[c], cells[c] = str(n), r.choice(["%d", "%d %%", "%d%%"]) % n
        elif c == "status":
            cells[c] = r.choice(sorted(STATES))
            want[c] = STATES[cells[c]]
        elif c == "mark" and r.random() < 0.2:
            cells[c], want[c] = r.choice(["plain", "unmarked", "none"]), "none"
        else:
            want[c] = cells[c] = r.choice(TEXTS)
            if c == "mark" and cells[c] == "none":
                want[c] = "none"
    if "size 2" in want and "size 1" not in want:     # an only size is the first
        want["size 1"] = want.pop("size 2")
    bad = r.random() < 0.1
    if bad:
        c = r.choice([c for c in columns if c in ("size 1", "length", "rust")] or ["rust"])
        if c in cells:
            cells[c] = {"size 1": r.choice(["05-Nov", "2026-05-16", "1/4", "44567"]),
                        "length": r.choice(["2.2E+01", "24 in (70 cm)", "long", "0 mm"]),
                        "rust": r.choice(["9", "much"])}[c]
            return cells, None
    return cells, {c: v for c, v in want.items() if v != ""}


def table(seed):
    """(bytes, rows wanted, rows refused)"""
    r = random.Random(seed)
    columns = ["id", "tool", "length"] + [c for c in NAMES if c not in ("id", "tool", "length")
                                          and r.random() < 0.6]
    if "size 2" in columns and "size 1" not in columns:
        columns.append("size 1")
    columns += r.sample(OWN, r.randrange(3))
    r.shuffle(columns)
    heads = [r.choice(NAMES[c]) if c in NAMES else c for c in columns]
    heads = [h + r.choice([" (mm)", " mm", "_mm"]) if c == "length" else h
             for c, h in zip(columns, heads)]
    made = [row(r, columns, 1000 * seed + i) for i in range(r.randrange(1, 12))]
    out = io.StringIO()
    w = csv.writer(out, delimiter=r.choice(",;\t"), lineterminator=r.choice(["\n", "\r\n"]),
                   quoting=r.choice([csv.QUOTE_MINIMAL, csv.QUOTE_ALL]))
    w.writerow(heads)
    for cells, _ in made:
        w.writerow([cells[c] for c in columns])
    text = out.getvalue().encode()
    if r.randrange(3) == 0:
        text = b"\xef\xbb\xbf" + text
    return text, [v for _, v in made if v is not None], sum(v is None for _, v in made)


def run(*args):
    return subprocess.run([TOOL, *args], stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def mm(text):
    m = re.fullmatch(r"(\d+)(?:\.(\d+))? mm", text)
    if m:
        return int(m[1]) + fractions.Fraction(int(m[2] or 0), 10 ** len(m[2] or ""))
    m = re.fullmatch(r'(\d+)(?: 1/2 in|\u00bd")', text)
    return m and (int(m[1]) + fractions.Fraction(1, 2)) * fractions.Fraction(254, 10)


def literal(text):
    """A cell without what keeps it from being read as something else."""
    if len(text) > 1 and text[0] == "'" and text[1] in "=+-@\t":
        text = text[1:]
    if len(text) > 2 and text[0] == text[-1] == '"':
        text = text[1:-1]
    return text


def agree(column, got, want):
    if column == "length":
        return mm(got) == want
    if column == "plate_left":
        return got.rstrip(" %") == want
    if column == "status":
        return got.replace(" ", "-") == want
    return literal(got) == want


def compare(name, printed, rows):
    bad = []
    got = list(csv.reader(io.StringIO(printed, newline="")))
    if not rows:
        return [] if not got else ["%s: rows where all were refused" % name]
    heads = [re.sub("^extra: ?", "", h) for h in got[0]]
    if len(got) - 1 != len(rows):
        return ["%s: %d rows, not %d" % (name, len(got) - 1, len(rows))]
    for cells, want in zip(got[1:], rows):
        have = {h: c for h, c in zip(heads, cells) if c != ""}
        for c in sorted(set(have) | set(want)):
            if c not in have or c not in want or not agree(c, have[c], want[c]):
                bad.append("%s, %s: %s is %r, not %r" % (name, want["id"], c, have.get(c),
                                                         want.get(c)))
    return bad


def main():
    bad = []
    read = refused = 0
    with tempfile.TemporaryDirectory() as t:
        paths = []
        for seed in range(TABLES):
            text, rows, wrong = table(seed)
            path = "%s/%d.csv" % (t, seed)
            with open(path, "wb") as f:
                f.write(text)
            p = run("import", "--format", "csv", path)
            if p.returncode != (1 if wrong else 0):
                bad.append("table %d: exit %d: %s" % (seed, p.returncode, p.stderr[-300:]))
                continue
            bad += compare("table %d" % seed, p.stdout.decode(), rows)
            told = re.search(rb"read (\d+) of (\d+) row", p.stderr)
            if (int(told[1]), int(told[2])) != (len(rows), len(rows) + wrong):
                bad.append("table %d: %s" % (seed, told[0]))
            read, refused = read + len(rows), refused + wrong
            paths.append(path)
            if len(bad) > 20:
                break
        for i in range(0, len(paths), EACH):
            one, two, three = ("%s/%s" % (t, n) for n in ("1.yaml", "2.csv", "3.yaml"))
            run("import", *paths[i:i + EACH], "-o", one)
            for args in (["check", "-q", one], ["import", one, "--format", "csv", "-o", two],
                         ["import", two, "-o", three]):
                p = run(*args)
                if p.returncode:
                    bad.append("tables from %d, %s: exit %d: %s"
                               % (i, args[0], p.returncode, p.stderr[-300:]))
            if open(one, "rb").read() != open(three, "rb").read():
                bad.append("tables from %d: YAML, table and YAML differ" % i)
    # the judge itself
    if not compare("judge", "id,tool\r\nT-1,jack\r\n", [{"id": "T-1", "tool": "hammer"}]):
        bad.append("a wrong value is not noticed")
    print("\n".join(bad[:30]) if bad else "import: %d tables, %d rows read, %d refused" %
          (TABLES, read, refused))
    return 1 if bad or read < TABLES or refused < 100 else 0


if __name__ == "__main__":
    sys.exit(main())
