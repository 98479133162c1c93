#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Lists that people keep, and what import makes of them.

    imports.py TOOL [--no-limits]

Each case is one list, run as `TOOL import LIST`: the exit status, the messages
with their places, and lines that the bench must hold.  Places and values are
worked by hand in what stands here; 1 in = 25.4 mm [nist-sp811], so 6 1/2 in =
165.1 mm and .525 in = 13.335 mm.
"""
import os
import re
import subprocess
import sys
import tempfile

MESSAGE = re.compile(r"^[^:]+:(\d+:\d+): (?:(?:error|warning|note): .* \[([a-z0-9-]+)\]|"
                     r"note: ([^\[\]]+))$")
HEAD = "id,tool,length\n"

# name, list, messages, exit, lines of the bench
CASES = [
    ("many spellings of one length", "a.csv",
     "\ufeffId;Type;Length (mm)\r\n" + "".join(
         "T-%d;tyre lever;%s\r\n" % (i, t) for i, t in enumerate(
             ["165", "6\u00bd\"", "6 1/2 in", "13,34 mm", ".525\"", "\"6,5 in (165 mm)\""])),
     [], 0, ["    length: 165 mm", '    length: "6\u00bd\\""', "    length: 6 1/2 in",
             "    length: 13.34 mm", '    length: ".525\\""', "    length: 6.5 in"]),
    ("sizes and their letters", "a.csv",
     "id,tool,size 1,size 2,system\nA,ring spanner,1/4,5/16W,BSW\n"
     "B,ring spanner,17,2BA,\nC,screwdriver,\"0,8 x 5,5\",,\n",
     [], 0, ["    sizes: [1/4 W, 5/16 W]", "    sizes: [17 mm, 2 BA]",
             "    sizes: [0.8 x 5.5 mm]"]),
    ("an end that was not measured", "a.csv",
     "id,tool,opening 2,opening 1\nA,ring spanner,12.1 mm,?\n", [], 0,
     ["    openings: [unknown, 12.1 mm]"]),
    ("no unit", "a.csv", HEAD + "A,jack,165\n", ["2:8 length-without-unit"], 1, ["bench: []"]),
    ("damage, states and money", "a.csv",
     "id,tool,faults,status,paid,mark side a,mark side b\n"
     "A,ring spanner,\"spread end 2 by 0,35 mm, cracked\",on loan,\u00a34.50,LM,12\n", [], 0,
     ["    condition: {damage: [{what: spread, end: 2, by: 0.35 mm}, cracked]}",
      "    status: lent", "    paid: 4.50 GBP", "    mark: LM / 12"]),
    ("column-kept", "a.csv", "id,tool,dealer\nA,jack,J. Smith\n", ["1:9 column-kept"], 0,
     ["    extra: {dealer: J. Smith}"]),
    ("no-scale", "a.csv", "id,tool,grade\nA,jack,3\n", ["1:9 no-scale"], 0,
     ["    extra: {grade: 3}"]),
    ("many-as-one", "a.csv", "id,tool,qty\nT-012,jack,2\n", ["2:1 many-as-one"], 0,
     ["  - id: T-012a", "  - id: T-012b"]),
    ("the same number twice", "a.csv", "id,tool,qty\nT-1,jack,2\nt-1A,ring spanner,\n",
     ["2:1 many-as-one", "3:1 duplicate-id", "2:1 first used here"], 1, ["  - id: T-1a", "  - id: T-1b"]),
    ("damage by a spreadsheet, the rest read", "a.csv",
     HEAD + "A,jack,05-Nov\nB,jack,44567\nC,jack,2.2E+01 mm\nD,jack,12 mm\n",
     ["2:8 sheet-damage", "3:8 sheet-damage", "4:8 bad-length"], 1, ["  - id: D"]),
    ("unknown words are kept", "a.csv",
     "id,tool,finish\nA,thingamajig,mystery coat\n",
     ["2:3 unlisted-kind", "2:15 unlisted-finish"], 0, ["    tool: thingamajig"]),
    ("a name that begins with a percent sign", "a.csv", "note,id,tool\n% off,A,jack\n", [], 0,
     ['    note: "% off"']),
    ("notes", "a.txt",
     "# spring\nT-12 open 1/4W 5/16W 148mm mark LARKMOOR black rust 3\n"
     "T-13 open 17mm no mark bent soft in \"drawer 2\"\n"
     "T-14 screwdriver 0.8x5.5 handle wood note lent, once\n", [], 0,
     ["    tool: double open-ended spanner", "    sizes: [1/4 W, 5/16 W]", "    length: 148mm",
      "    mark: LARKMOOR", "    finish: black", "    condition: {rust: 3}",
      "    tool: single open-ended spanner", "    sizes: [17 mm]", "    mark: none",
      "    condition: {damage: bent soft}", "    place: drawer 2",
      "    handle_material: wood", '    note: "lent, once"']),
    # letters missing behind the second size too; a spanner of which kind?
    ("bare fractions in notes", "a.txt",
     "T-1 jack 12mm\nT-3 open 1/4 5/16\nT-4 ring 1/4W 5/16\nT-5 jack 1/4x\n",
     ["2:10 ambiguous-size", "3:15 ambiguous-size", "4:10 note-word"], 1, ["  - id: T-1"]),
    ("a vague kind in notes", "a.txt", "T-1 jack 12mm\nT-2 spanner 10mm\n",
     ["2:5 note-word"], 1, ["  - id: T-1"]),
    ("note-word", "a.txt", "T-1 jack 12mm\nT-2 jack frobbed\nT-3 jack rust\n",
     ["2:10 note-word", "3:10 note-word"], 1, ["  - id: T-1"]),
    ("no-bench", "a.yaml", "kit: {id: k}\n", ["1:1 no-bench"], 2, []),
    ("a table without names", "a.csv", "1,2\n3,4\n", ["1:1 csv-header"], 2, []),
    ("a count in YAML", "a.yaml", "bench: [{id: A, tool: jack, count: 2}]\n",
     ["1:9 many-as-one"], 0, ["  - id: A.1", "  - id: A.2"]),
    ("one photograph for two tools", "a.csv",
     "id,tool,photo\nA,jack,p1.jpg\nB,jack,p2.jpg; p1.jpg\nC,jack,p3.jpg\n",
     ["3:1 photo-twice", "2:1 the other one"], 0, ["    photos: [p2.jpg, p1.jpg]"]),
    ("the same tool twice", "a.csv",
     "id,tool,length\nA,jack,100 mm\nB,jack,100 mm\na,jack,110 mm\nA,jack,100 mm\n",
     ["4:1 duplicate-id", "2:1 first used here", "5:1 duplicate-id", "2:1 first used here"], 1,
     ["  - id: A", "  - id: B"]),
    ("rows without id that say the same", "a.csv",
     "id,tool,length\n,jack,100 mm\n,jack,100 mm\n,jack,110 mm\n,,\n",
     ["3:1 same-row", "2:1 the other one"], 0, ["    length: 110 mm"]),
    ("the same in YAML", "a.yaml",
     "bench:\n  - {tool: jack, mark: LM}\n  - {mark: LM, tool: jack}\n",
     ["3:5 same-row", "2:5 the other one"], 0, ["    mark: LM"]),
]


def judge(tool, name, text, expected, status, lines, folder):
    with open(os.path.join(folder, name), "w", encoding="utf-8", newline="") as f:
        f.write(text)
    p = subprocess.run([tool, "import", name], cwd=folder, capture_output=True, text=True,
                       timeout=60)
    said = ["%s %s" % (m.group(1), m.group(2) or m.group(3))
            for m in map(MESSAGE.match, p.stderr.splitlines()) if m]
    wrong = []
    if said != expected:
        wrong.append("said %s, expected %s" % (said, expected))
    if p.returncode != status:
        wrong.append("status %d" % p.returncode)
    have = p.stdout.splitlines()
    wrong += ["no line %r" % line for line in lines if line not in have]
    if status < 2:
        q = subprocess.run([tool, "check", "-q", "-"], input=p.stdout, cwd=folder,
                           capture_output=True, text=True, timeout=60)
        if q.returncode:
            wrong.append("the bench does not load: %s" % q.stderr)
    dry = subprocess.run([tool, "import", "-n", name], cwd=folder, capture_output=True,
                         text=True, timeout=60)
    if dry.returncode != status or (status < 2) != dry.stdout.startswith("read "):
        wrong.append("a dry run says %r, status %d" % (dry.stdout, dry.returncode))
    return wrong


def main():
    tool = os.path.abspath(sys.argv[1])
    failed = 0
    for name, path, text, expected, status, lines in CASES:
        with tempfile.TemporaryDirectory() as folder:
            wrong = judge(tool, path, text, expected, status, lines, folder)
        if wrong:
            failed += 1
            print("not ok - %s: %s" % (name, "; ".join(wrong)))
    with tempfile.TemporaryDirectory() as folder:
        if not judge(tool, "a.csv", HEAD + "A,jack,1 mm\n", [], 0, ["    length: 2 mm"], folder):
            failed += 1
            print("not ok - a wrong value is not noticed")
    print("%d passed, %d failed" % (len(CASES) + 1 - failed, failed))
    sys.exit(1 if failed else 0)


main()
