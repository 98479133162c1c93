#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Run CSV benches, several files at once and large inputs through the tool
and compare what it says of them.

    records.py TOOL [--no-limits]

Each case is a set of files, run as `TOOL check FILES`; it must end with status
2, an empty standard output and exactly the expected messages, or, where none
is expected, with status 0.  Places are counted by hand in what stands here.
"""
import os
import re
import subprocess
import sys
import tempfile

MESSAGE = re.compile(r"^(?:.*/)?([^/]+):(\d+:\d+): (?:error|warning): .*"
                     r" \[([a-z0-9-]+)\]$")
HEAD = "id,tool,length\n"
KIT = "kit:\n  id: %s\n  slots: [{id: S-1, tool: tyre lever}]\n"
PRICES = "prices:\n  currency: GBP\n  rates: {EUR: %s}\n"

CASES = [
    # CSV [rfc-4180]
    ("csv-unclosed", {"a.csv": HEAD + 'T-1,"tyre lever,200 mm\n'},
     ["a.csv 2:5 csv-unclosed"]),
    ("csv-quote", {"a.csv": HEAD + 'T-1,"tyre" lever,200 mm\n'},
     ["a.csv 2:12 csv-quote"]),
    ("csv-header", {"a.csv": "1;2;3\n4;5;6\n"}, ["a.csv 1:1 csv-header"]),
    ("csv-column-twice", {"a.csv": "id,tool,kind\nT-1,tyre lever,\n"},
     ["a.csv 1:9 csv-column-twice"]),
    ("csv-ragged", {"a.csv": HEAD + "T-1,tyre lever\n"},
     ["a.csv 2:1 csv-ragged"]),
    ("mixed delimiters", {"a.csv": HEAD + "T-1;tyre lever;200 mm\n"},
     ["a.csv 2:1 csv-ragged"]),
    ("csv-columns", {"a.csv": ",".join("c%d" % i for i in range(300)) + "\n"},
     ["a.csv 1:1 csv-columns"]),
    ("empty CSV", {"a.csv": ""}, ["a.csv 1:1 empty-file"]),
    ("CSV of blank lines", {"a.csv": "\n,,\n"}, ["a.csv 1:1 empty-file"]),
    ("no unit in cell or column", {"a.csv": HEAD + "T-1,tyre lever,200\n"},
     ["a.csv 2:16 length-without-unit"]),
    ("bare fraction in a cell", {"a.csv": "id,tool,sizes\nT-1,ring spanner,7/16\n"},
     ["a.csv 2:18 ambiguous-size"]),
    ("same id in two rows", {"a.csv": "id,tool\nT-1,tyre lever\nt-1,jack\n"},
     ["a.csv 3:1 duplicate-id"]),
    ("a good CSV", {"a.csv": HEAD + "T-1,tyre lever,200 mm\n"}, []),
    ("a header alone", {"a.csv": HEAD}, []),
    ("csv-mixed", {"a.csv": "id,tool;length\nT-1,tyre lever;200 mm\n"},
     ["a.csv 1:4 csv-mixed"]),
    ("a comma in a name of semicolons",
     {"a.csv": "id;tool;\"notes, other\"\nT-1;tyre lever;x, y\n"}, []),
    ("a name of one's own with a comma",
     {"a.csv": "id;tool;shed, row\nT-1;tyre lever;2\n"}, []),
    ("sheet-damage", {"a.csv": "id,tool,size 1\n"
                           "T-1,ring spanner,05-Nov\n"
                           "T-2,ring spanner,2026-05-16\n"},
     ["a.csv 2:18 sheet-damage", "a.csv 3:18 sheet-damage"]),
    ("a day number and an exponent for a length",
     {"a.csv": "id,tool,length mm\nT-1,jack,44567\nT-2,jack,2.2E+01\n"},
     ["a.csv 2:10 sheet-damage", "a.csv 3:10 sheet-damage"]),
    ("a day number elsewhere", {"a.csv": "id,tool,bin no\n44567,jack,44567\n"},
     []),
    # 10 in = 254 mm; 24 in = 609.6 mm [nist-sp811]
    ("both units that agree", {"a.csv": HEAD + "T-1,jack,10 in (254 mm)\n"
                               "T-2,jack,24 in (610 mm)\n"}, []),
    ("units-disagree", {"a.csv": HEAD + "T-1,jack,24 in (70 cm)\n"},
     ["a.csv 2:10 units-disagree"]),
    ("cells that record nothing", {"a.csv": "id,tool,length,mark,rust,owner\n"
                                   "T-1,jack,-,plain,?,n/a\n"}, []),
    ("a tool of no kind", {"a.csv": "id,tool,rust\nT-1,?,9\n"},
     ["a.csv 2:1 no-kind", "a.csv 2:7 out-of-range"]),
    # several files
    ("second-record", {"a.yaml": "workshop: {unit: 1.00}\n",
                       "b.yaml": "workshop: {unit: 0.90}\n"},
     ["b.yaml 1:11 second-record"]),
    ("two rubrics", {"a.yaml": "rubric: {total: 4.00}\n",
                     "b.yaml": "rubric: {total: 5.00}\n"},
     ["b.yaml 1:9 second-record"]),
    ("two-rates", {"a.yaml": PRICES % "0.86", "b.yaml": PRICES % "0.87"},
     ["b.yaml 2:3 two-rates"]),
    ("the same rate twice", {"a.yaml": PRICES % "0.86",
                             "b.yaml": PRICES % "0.860"}, []),
    ("prices in two currencies", {"a.yaml": "prices: {currency: GBP}\n",
                                  "b.yaml": "prices: {currency: EUR}\n"},
     ["b.yaml 1:9 mixed-currency"]),
    ("one kit id in two files", {"a.yaml": KIT % "k", "b.yaml": KIT % "K"},
     ["b.yaml 2:3 duplicate-id"]),
    ("one tool id in two files",
     {"a.yaml": "bench: [{id: T-1, tool: jack, length: 20 mm}]\n",
      "b.yaml": "bench: [{id: T-1, tool: jack, length: 30 mm}]\n"},
     ["b.yaml 1:9 duplicate-id"]),
    ("a pin into another file",
     {"a.yaml": "bench: [{id: T-1, tool: jack, pin: k/s-1}]\n", "b.yaml": KIT % "k"}, []),
    ("a pin to a kit that is not there",
     {"a.yaml": "bench: [{id: T-1, tool: jack, pin: j/S-1}]\n", "b.yaml": KIT % "k"},
     ["a.yaml 1:36 unresolved-id"]),
    # whose tools they are
    ("pin-not-ours", {"a.yaml": "machine: {serial: 1, owner: Ada}\n"
                      "bench:\n"
                      "  - {id: T-1, tool: jack, owner: ADA, pin: k/S-1}\n"
                      "  - {id: T-2, tool: jack, owner: Bob, pin: k/S-2}\n"
                      "  - {id: T-3, tool: jack, pin: k/S-3, x: 1}\n",
                      "b.yaml": "kit:\n  id: k\n  slots:\n" + "".join(
                          "    - {id: S-%d, tool: jack}\n" % i
                          for i in (1, 2, 3))},
     ["a.yaml 4:44 pin-not-ours", "a.yaml 5:39 unknown-key"]),
    ("as many pins as pieces", {"a.yaml":
        "kit:\n  id: k\n  slots: [{id: S-1, tool: jack, count: 2}]\n"
        "bench:\n  - {id: A, tool: jack, pin: k/S-1}\n"
        "  - {id: B, tool: jack, pin: K/s-1}\n"}, []),
    ("one pin too many", {"a.yaml":
        "kit:\n  id: k\n  slots: [{id: S-1, tool: jack, count: 2}]\n"
        "bench:\n  - {id: A, tool: jack, count: 3, pin: k/S-1}\n"},
     ["a.yaml 5:40 pinned-twice"]),
    # no sum, no currency
    ("superseded alone", {"a.yaml":
        "prices: {superseded: [{old: A, new: B}]}\n"}, []),
    # no message about what an unreadable file may hold
    ("a pin into a broken file",
     {"a.yaml": "bench: [{id: T-1, tool: jack, pin: k/S-1}]\n", "b.yaml": "kit: [\n"},
     ["b.yaml 1:6 unclosed-bracket"]),
    # sums and counts that do not fit
    ("money-sum", {"a.yaml": "prices:\n  currency: CLF\n  sellers: [{id: s}]\n"
                             "  offers:\n" + "".join(
                                 "    - {id: o%d, part: A, seller: s, "
                                 "state: new, price: 99999999999.9999}\n" % i
                                 for i in range(9300))},
     ["money-sum"]),
    ("too-many-slots", {"a.yaml": "kit:\n  id: k\n  slots:\n" + "".join(
        "    - {id: S-%d, tool: tyre lever}\n" % i for i in range(100001))},
     ["a.yaml 4:5 too-many-slots"]),
    ("too-many-tools", {"a.yaml": "bench:\n"
                                  "  - {id: A, tool: jack, count: 2000000}\n"
                                  "  - {id: B, tool: jack}\n"},
     ["a.yaml 3:5 too-many-tools"]),
    # what looks wrong and is right
    ("inches with their sign", {"a.yaml":
        "bench:\n  - {id: T-1, tool: ring spanner, sizes: ['7/16\"'],\n"
        "     length: 6 1/2 in}\n"}, []),
    ("ids that look like numbers and words", {"a.yaml":
        "bench:\n" + "".join("  - {id: %s, tool: jack}\n" % i
                              for i in ("014", "1e3", "no", "0x1F"))}, []),
    ("an empty bench", {"a.yaml": "bench: []\n"}, []),
    ("yen have no decimals", {"a.yaml":
        "prices:\n  currency: JPY\n  sellers: [{id: s}]\n"
        "  offers: [{id: o, part: A, seller: s, state: new, price: 12 JPY}]\n"},
     []),
]


def judge(tool, files, expected, folder):
    for name, text in files.items():
        with open(os.path.join(folder, name), "w", encoding="utf-8") as f:
            f.write(text)
    p = subprocess.run([tool, "check"] + sorted(files), cwd=folder,
                       capture_output=True, text=True, timeout=120)
    found = [m for m in map(MESSAGE.match, p.stderr.splitlines()) if m]
    said = [m[3] if e == m[3] else "%s %s %s" % m.groups()
            for m, e in zip(found, expected + [""] * len(found))]
    wrong = []
    if said != expected:
        wrong.append("said %s, expected %s" % (said, expected))
    if p.returncode != (2 if expected else 0):
        wrong.append("status %d" % p.returncode)
    if expected and p.stdout:
        wrong.append("standard output is not empty")
    return wrong


def main():
    if len(sys.argv) < 2:
        sys.exit("usage: records.py TOOL [--no-limits]")
    tool = os.path.abspath(sys.argv[1])
    failed = 0
    for name, files, expected in CASES:
        with tempfile.TemporaryDirectory() as folder:
            wrong = judge(tool, files, expected, folder)
        if wrong:
            failed += 1
            print("not ok - %s: %s" % (name, "; ".join(wrong)))
    # the judge itself
    with tempfile.TemporaryDirectory() as folder:
        if not judge(tool, {"a.yaml": "bench: []\n"}, ["1:1 x"], folder):
            failed += 1
            print("not ok - a wrong expectation is not noticed")
    print("%d passed, %d failed" % (len(CASES) + 1 - failed, failed))
    sys.exit(1 if failed else 0)


main()
