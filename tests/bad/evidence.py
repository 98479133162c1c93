#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""What sources come to, held against what a file says of them: notes, which
mend nothing and fail nothing, and mistakes.

    evidence.py TOOL [--no-limits]

Each case is the sources and the slots of a kit, run as `TOOL check FILE`; it
must give exactly the expected messages, each text word for word, and status 2
if one of them is an error.  Places are counted by hand.
"""
import os
import re
import subprocess
import sys
import tempfile

KIT = "kit:\n  id: k\n  sources:\n%s  slots:\n%s"
MESSAGE = re.compile(r"^a\.yaml:(\d+:\d+): (error|warning|note): (.*) \[([a-z0-9-]+)\]$")

IDS = ("less-support", "both-sides")  # each is provoked below
PL = "    - {id: pl, what: parts-list}\n"
SV = "    - {id: sv, what: survivor}\n"
RC = "    - {id: rc, what: recollection}\n"
BOOK = ("    - {id: bk, what: book}\n"
        "    - {id: m1, what: sales, depends_on: [bk]}\n"
        "    - {id: m2, what: book, depends_on: [bk]}\n"
        "    - {id: m3, what: recollection, depends_on: [m2]}\n")


def slot(rest):
    return "    - {id: S, tool: tyre lever, %s}\n" % rest


CASES = [
    # one list is probable: stated surer, said so; stated as sure, not
    ("one list, certain", PL, slot("exists: {for: [pl], certainty: certain}"),
     ["6:41 note less-support 'exists' is stated certain; 1 root: supports probable"]),
    ("one list, probable", PL, slot("exists: {for: [pl], certainty: probable}"), []),
    ("less sure than it could be", PL, slot("exists: {for: [pl], certainty: possible}"), []),
    ("nothing stated", PL, slot("exists: {for: [pl]}"), []),
    ("stated without sources", PL, slot("exists: certain"), []),
    # sources of a slot as a whole settle nothing
    ("sources of the slot", RC, slot("sources: [rc]"), []),
    # three mentions of one book, which is not cited itself
    ("borrowed authority", BOOK,
     slot("exists: {for: [m1, m2, m3], certainty: certain}"),
     ["9:41 note less-support 'exists' is stated certain; 3 mentions, 1 root: "
      "supports possible"]),
    ("an attribute", PL + RC, slot("mark: {is: K, certainty: probable, sources: [rc, pl]}"),
     ["7:39 note less-support 'mark' is stated probable; 2 roots: supports possible"]),
    ("against", PL + SV, slot("exists: {for: [sv], against: [pl], certainty: probable}"),
     ["7:41 note less-support 'exists' is stated probable; 1 root, 1 against: "
      "supports disputed"]),
    # two claims, each with what speaks for the other against it
    ("claims that contradict", PL + SV + RC,
     slot("mark: [{is: K, certainty: certain, sources: [sv]}, {is: L, sources: [rc]}]"),
     ["8:40 note less-support 'mark' is stated certain; 1 root, 1 against: "
      "supports probable"]),
    # every slot has it: said once
    ("in every slot", RC, "    - {id: A, tool: jack}\n    - {id: B, tool: jack}\n"
     "  every_slot: {exists: {for: [rc], certainty: certain}}\n",
     ["8:24 note less-support 'exists' is stated certain; 1 root: supports possible"]),
    ("both sides", PL, slot("exists: {for: [pl], silent: [pl]}"),
     ["6:41 error both-sides source 'pl' stands under two of 'for', 'against' "
      "and 'silent'"]),
    ("both sides in every slot", PL,
     "    - {id: A, tool: jack}\n    - {id: B, tool: jack}\n"
     "  every_slot: {exists: {against: [pl], silent: [pl]}}\n",
     ["8:24 error both-sides source 'pl' stands under two of 'for', 'against' "
      "and 'silent'"]),
    ("more sources than a kit can have",
     "".join("    - {id: s%d, what: book}\n" % i for i in range(1001)), slot("exists: certain"),
     ["2:3 error list-length 'sources' takes 1 to 1000 entries"]),
    ("as many as it can have, in one chain",
     "".join("    - {id: s%d, what: parts-list%s}\n"
             % (i, ", depends_on: [s%d]" % (i + 1) if i < 999 else "")
             for i in range(1000)),
     slot("exists: {for: [s0, s999], certainty: certain}"),
     ["1005:41 note less-support 'exists' is stated certain; 2 mentions, 1 root: "
      "supports probable"]),
    # a mistake in a source is told once, and nothing is made of it
    ("a circle", "    - {id: a, what: book, depends_on: [b]}\n"
     "    - {id: b, what: book, depends_on: [a]}\n",
     slot("exists: {for: [a], certainty: certain}"),
     ["5:7 error source-cycle source 'b' rests on 'a', which leads back to it"]),
    ("no such source", PL, slot("exists: {for: [pl, px], certainty: certain}"),
     ["6:41 error unresolved-id there is no source 'px'"]),
]


def judge(tool, sources, slots, expected, folder):
    with open(os.path.join(folder, "a.yaml"), "w", encoding="utf-8") as f:
        f.write(KIT % (sources, slots))
    p = subprocess.run([tool, "check", "a.yaml"], cwd=folder, capture_output=True,
                       text=True, timeout=60)
    said = ["%s %s %s %s" % (m[1], m[2], m[4], m[3])
            for m in map(MESSAGE.match, p.stderr.splitlines()) if m and m[3]]
    wrong = []
    if said != expected:
        wrong.append("said %s, expected %s" % (said, expected))
    if p.returncode != (2 if any(" error " in e for e in expected) else 0):
        wrong.append("status %d" % p.returncode)
    return wrong


def main():
    if len(sys.argv) < 2:
        sys.exit("usage: evidence.py TOOL [--no-limits]")
    tool = os.path.abspath(sys.argv[1])
    failed = 0
    for name, sources, slots, expected in CASES:
        with tempfile.TemporaryDirectory() as folder:
            wrong = judge(tool, sources, slots, expected, folder)
        if wrong:
            failed += 1
            print("not ok - %s: %s" % (name, "; ".join(wrong)))
    for one in IDS:
        if not any(" %s " % one in e for c in CASES for e in c[3]):
            failed += 1
            print("not ok - nothing provokes '%s'" % one)
    # the judge itself
    with tempfile.TemporaryDirectory() as folder:
        if not judge(tool, PL, slot("exists: {for: [pl]}"), ["1:1 note x y"], folder):
            failed += 1
            print("not ok - a wrong expectation is not noticed")
    print("%d passed, %d failed" % (len(CASES) + 1 - failed, failed))
    sys.exit(1 if failed else 0)


main()
