#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""The ids of messages are three things at once: rows of messages.h, headings
of docs/diagnostics.md, and expectations of tests/bad."""
import glob
import os
import re
import sys

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))


def read(path):
    try:
        with open(TOP + "/" + path, encoding="utf-8", errors="replace") as f:
            return f.read()
    except FileNotFoundError:
        return ""


def main():
    listed = re.findall(r'\bX\([A-Z0-9_]+,\s*[A-Z]+,\s*(?:\\\s*)?"([a-z0-9-]+)"',
                        read("include/kitmuster/messages.h"))
    headings = re.findall(r"^#{2,4} `?([a-z0-9]+(?:-[a-z0-9]+)*)`?$",
                          read("docs/diagnostics.md"), flags=re.M)
    # expectations: "# expect 3:1 id" in the files, quoted ids in the scripts
    expected = set()
    for path in glob.glob(TOP + "/tests/bad/*"):
        text = read(os.path.relpath(path, TOP))
        expected.update(re.findall(r"expect(?:\s+\d+:\d+)?\s+([a-z0-9-]+)", text))
        if path.endswith(".py"):
            expected.update(re.findall(r'["\'](?:\d+:\d+ )?([a-z0-9]+(?:-[a-z0-9]+)*)["\']', text))
    bad = ["messages.h: '%s' stands twice" % i for i in set(listed) if listed.count(i) > 1]
    bad += ["docs/diagnostics.md: no heading '%s'" % i for i in listed if i not in headings]
    bad += ["docs/diagnostics.md: '%s' is no message" % i for i in headings if i not in listed]
    bad += ["tests/bad: nothing provokes '%s'" % i for i in listed if i not in expected]
    print("\n".join(bad) if bad else "diag-check: %d ids, all told and provoked" % len(listed))
    return 1 if bad or not listed else 0


if __name__ == "__main__":
    sys.exit(main())
