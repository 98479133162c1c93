#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Give `changes` broken JSON and compare what it says.

    json.py TOOL [--no-limits]

Each case is a text that stands as the newer audit beside a good older one; it
must end with status 2, an empty standard output and exactly one message, at
the place counted by hand in what stands here.

SOURCE rfc-8259, sections 2 to 9: the grammar.  SOURCE rfc-7493, section 2.3:
no duplicate names.
"""
import os
import re
import subprocess
import sys
import tempfile

MESSAGE = re.compile(r"^(?:.*/)?([^/]+):(\d+:\d+): error: .* \[([a-z0-9-]+)\]$")
HEAD = '{"program": "kitmuster", "sheet": "%s", "currency": null, "%s": [%s]}'
GOOD = HEAD % ("slots", "slots", '{"kit": "k", "slot": "s"}')

CASES = [
    # the grammar
    ("empty file", "", "1:1 json-syntax"),
    ("word", "audit", "1:1 json-syntax"),
    ("capital word", "True", "1:1 json-syntax"),
    ("cut short", '{"a": [1, 2', "1:12 json-syntax"),
    ("comma at the end", "[1,]", "1:4 json-syntax"),
    ("comma missing", "[1 2]", "1:4 json-syntax"),
    ("name without quotes", "{a: 1}", "1:2 json-syntax"),
    ("colon missing", '{"a" 1}', "1:6 json-syntax"),
    ("comment", "[1, // one\n2]", "1:5 json-syntax"),
    ("single quotes", "['a']", "1:2 json-syntax"),
    ("other line", '{\n  "\u00e9\u00e9": 1,\n  "b": x\n}', "3:8 json-syntax"),
    ("characters, not bytes", '["\u00e9\u00e9\u00e9", x]', "1:9 json-syntax"),
    ("two values", "[] []", "1:4 trailing-text"),
    ("closed twice", "[]]", "1:3 trailing-text"),
    # strings
    ("unclosed", '["abc', "1:2 json-syntax"),
    ("line feed in a string", '["a\nb"]', "1:4 json-syntax"),
    ("tab in a string", '["a\tb"]', "1:4 json-syntax"),
    ("unknown escape", r'["a\q"]', "1:4 json-syntax"),
    ("short code", r'["\u12"]', "1:3 json-syntax"),
    ("NUL", r'["\u0000"]', "1:3 json-syntax"),
    ("half of a pair", r'["\ud83d"]', "1:3 json-syntax"),
    ("second half alone", r'["\ude00"]', "1:3 json-syntax"),
    ("pair of two firsts", r'["\ud83d\ud83d"]', "1:3 json-syntax"),
    # numbers
    ("plus", "[+1]", "1:2 json-syntax"),
    ("leading zero", "[01]", "1:3 json-syntax"),
    ("point without digits", "[1.]", "1:2 json-syntax"),
    ("no digit before", "[.5]", "1:2 json-syntax"),
    ("exponent without digits", "[1e]", "1:2 json-syntax"),
    ("not a number", "[NaN]", "1:2 json-syntax"),
    ("hexadecimal", "[0x10]", "1:3 json-syntax"),
    ("long number", "[%s]" % ("1" * 257), "1:2 long-text"),
    # ceilings
    ("name twice", '{"a": 1, "a": 2}', "1:10 duplicate-key"),
    ("65 deep", "[" * 65 + "]" * 65, "1:65 too-deep"),
    ("long name", '{"%s": 1}' % ("k" * 65), "1:2 long-key"),
    ("1001 names", "{%s}" % ",".join('"%04d":1' % i for i in range(1001)),
     "1:9002 too-many-keys"),
    # the bytes
    ("not UTF-8", b'["\xff"]', "1:3 not-utf8"),
    ("control character", b'["\x01"]', "1:3 control-character"),
    # no audit
    ("another program", '{"program": "other"}', "1:1 not-an-audit"),
    ("a list", "[]", "1:1 not-an-audit"),
    ("another sheet", HEAD % ("ways", "ways", ""), "1:35 not-an-audit"),
    ("rows missing", '{"program": "kitmuster", "sheet": "slots"}',
     "1:1 not-an-audit"),
    ("rows are no list", HEAD.replace("[%s]", "%s") % ("slots", "slots", "{}"),
     "1:1 not-an-audit"),
    ("row without a slot", HEAD % ("slots", "slots", '{"kit": "k"}'),
     "1:72 not-an-audit"),
    ("row is a number", HEAD % ("slots", "slots", "7"), "1:72 not-an-audit"),
    ("row twice", HEAD % ("slots", "slots", ", ".join(
        ['{"kit": "k", "slot": "s"}'] * 2)), "1:99 not-an-audit"),
    ("not the same sheet", HEAD % ("summary", "kits", '{"kit": "k"}'),
     "1:1 not-an-audit"),
]


def run(tool, folder, new):
    with open(os.path.join(folder, "new.json"), "wb") as f:
        f.write(new if isinstance(new, bytes) else new.encode())
    got = subprocess.run([tool, "changes", "old.json", "new.json"], cwd=folder,
                         stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                         timeout=60)
    said = [m.groups() for m in map(MESSAGE.match,
                                    got.stderr.decode().splitlines()) if m]
    return got, said


def main():
    tool = os.path.abspath(sys.argv[1])
    bad = 0
    with tempfile.TemporaryDirectory() as folder:
        with open(os.path.join(folder, "old.json"), "w") as f:
            f.write(GOOD)
        got, said = run(tool, folder, GOOD)
        if got.returncode or said or got.stdout != b"nothing has changed\n":
            print("json.py: the good case: %r %r" % (got.stdout, said))
            bad += 1
        for name, text, expected in CASES:
            got, said = run(tool, folder, text)
            told = [p + " " + i for f, p, i in said if f == "new.json"]
            if got.returncode != 2 or got.stdout or told != [expected] or \
                    len(said) != 1:
                print("json.py: %s: expected %s, got %d %r %s"
                      % (name, expected, got.returncode, said,
                         got.stderr.decode()[:300]))
                bad += 1
    print("bad: %s: %d cases" % (os.path.basename(__file__), len(CASES) + 1))
    return 1 if bad or not CASES else 0


if __name__ == "__main__":
    sys.exit(main())
