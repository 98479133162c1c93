#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Order says nothing: the files of a run, the tools of a bench, the offers and
the sellers shuffled, and every sheet in every format still has the same bytes.

    shuffle.py TOOL

The demo files are shuffled as text.  A list is the lines after `key:` that
begin with "- " at one depth; what is deeper belongs to the item above it.
Sheets follow the order of a kit's own list, so where slots are shuffled too,
the rows of the CSV sheets may move, and nothing else.

Exit: 0 nothing changed, 1 something did, or nothing was shuffled at all.
"""
import csv
import glob
import io
import os
import random
import re
import subprocess
import sys
import tempfile

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
TOOL = os.path.abspath(sys.argv[1])
SEEDS = (1, 2, 3)
LISTS = ("bench", "offers", "sellers", "job_lots", "superseded", "decisions", "sources")


def shuffle_yaml(text, r, lists=LISTS):
    """Returns the text, and how many items may have moved."""
    lines = text.splitlines(keepends=True)
    out, i, moved = [], 0, 0
    while i < len(lines):
        out.append(lines[i])
        m = re.match(r"( *)(\w+):\s*(?:#.*)?$", lines[i])
        i += 1
        if not m or m.group(2) not in lists:
            continue
        items, depth = [], None
        while i < len(lines):
            blank = not lines[i].strip() or lines[i].lstrip().startswith("#")
            indent = len(lines[i]) - len(lines[i].lstrip(" "))
            dash = lines[i].lstrip(" ").startswith("- ")
            if depth is None and dash and indent >= len(m.group(1)):
                depth = indent
            if not blank and (depth is None or indent < depth or
                              indent == depth and not dash):
                break
            if dash and indent == depth:
                items.append([])
            (items[-1] if items else out).append(lines[i])
            i += 1
        r.shuffle(items)
        moved += len(items)
        out.extend(line for item in items for line in item)
    return "".join(out), moved


def shuffle_csv(text, r, _=()):
    if '"' in text:
        sys.exit("shuffle: a quoted CSV cell may hold line ends; not read here")
    head, *rows = text.splitlines(keepends=True)
    r.shuffle(rows)
    return head + "".join(rows), len(rows)


# What build logs say names lines of the files, and those do move.
PLACES = ("tap", "junit", "sarif", "github")


def pairs():
    """Every sheet with every format it has, as the help lists them."""
    text = subprocess.run([TOOL, "help", "audit"], stdout=subprocess.PIPE,
                          check=True).stdout.decode()
    part = text.split("\nsheets:\n")[1].split("\n\n")[0]
    lines, usual = re.match(r"(.*)^Where nothing else is said, as (.*)\.$", part,
                            re.S | re.M).groups()
    for line in re.split(r"\n(?=  \S)", lines.rstrip("\n")):
        sheet = re.match(r"  ([\w-]+) ", line).group(1)
        said = re.search(r"\((also )?([\w, -]+)\)$", line)
        if not said or said.group(1):
            yield from ((sheet, f) for f in usual.split(", "))
        if said:
            yield from ((sheet, f) for f in said.group(2).split(", ")
                        if f not in PLACES)


def audit(files, sheet, form):
    p = subprocess.run([TOOL, "audit", "--sheet", sheet, "--format", form,
                        "--today", "2026-06-01", "-v", *files],
                       stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    if p.returncode not in (0, 1):
        sys.exit("shuffle: %s: exit %d: %s" % (files, p.returncode, p.stderr.decode()))
    return p.returncode, p.stdout


def shuffled(files, folder, r, lists=LISTS):
    """Copies of files with their lists shuffled, in another order."""
    out, moved = [], 0
    for path in files:
        with open(path, encoding="utf-8", newline="") as f:
            text, n = (shuffle_csv if path.endswith(".csv") else shuffle_yaml)(f.read(), r, lists)
        moved += n
        out.append(os.path.join(folder, os.path.basename(path)))
        with open(out[-1], "w", encoding="utf-8", newline="") as f:
            f.write(text)
    r.shuffle(out)
    return out, moved


def self_test():
    """The shuffler moves what it should, and only that."""
    text = "a: 1\nbench:\n" + "".join(
        "  - id: T-%d\n    x: [1,\n      2]\n" % i for i in range(9)) + "kit: 2\n"
    new, moved = shuffle_yaml(text, random.Random(1))
    return moved == 9 and new != text and sorted(new) == sorted(text) and \
        new.startswith("a: 1\nbench:\n  - id") and new.endswith("kit: 2\n")


def rows(result):
    """The rows as a set; a running number in front follows the order, and so
    does which of some slots that are alike is named first."""
    status, text = result
    head, *lines = csv.reader(io.StringIO(text.decode("utf-8"), newline=""))
    running = head[0] in ("number", "question")
    if "slots_alike" in head:
        one, more = head.index("slot"), head.index("slots_alike")
        for line in lines:
            named = [line[one]] + line[more].split("; ")
            line[one], line[more] = "", sorted(n for n in named if n)
    return status, head, sorted(line[running:] for line in lines)


class Count:
    same = different = 0

    def compare(self, wanted, got, what):
        if wanted == got:
            self.same += 1
        else:
            self.different += 1
            print("shuffle: %s changes" % what)


def shuffle_machine(files, seed, first, count):
    """One machine, one seed: all lists but slots, then slots as well."""
    what = "%s, seed %d: sheet %%s as %%s" % (os.path.basename(files[0]), seed)
    for lists in (LISTS, LISTS + ("slots",)):
        with tempfile.TemporaryDirectory() as folder:
            other, moved = shuffled(files, folder, random.Random(seed), lists)
            assert moved > 10, "%s: only %d items to shuffle" % (files, moved)
            for pair, wanted in first.items():
                if lists is LISTS:
                    count.compare(wanted, audit(other, *pair), what % pair)
                elif pair[1] == "csv":
                    count.compare(rows(wanted), rows(audit(other, *pair)),
                                  "slots too, " + what % pair)


def main():
    if not self_test():
        print("shuffle: the shuffler itself is broken")
        return 1
    count = Count()
    for kit in sorted(glob.glob(TOP + "/demo/*.kit.yaml")):
        files = sorted(glob.glob(kit[:-len("kit.yaml")] + "*"))
        first = {pair: audit(files, *pair) for pair in pairs()}
        for seed in SEEDS:
            shuffle_machine(files, seed, first, count)
    print("shuffle: %d passed, %d failed" % (count.same, count.different))
    return 1 if count.different or not count.same else 0


if __name__ == "__main__":
    sys.exit(main())
