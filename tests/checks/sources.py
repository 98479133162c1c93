#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Every source that data, code or tests name is an entry of docs/sources.md,
and every entry is named somewhere.

data/*.def   the columns whose name ends in "source" or "sources", as the
             head of the file lists them; "|" joins several, "none" is none
code, tests  [id] in a comment, and lines with SOURCE id
docs         [id] in docs/method.md
"""
import glob
import os
import re
import sys

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
ID = r"[a-z0-9]+(?:[-.][a-z0-9.]+)*"
bad = []
used = {}


def use(name, where):
    if name not in ("none", ""):
        used.setdefault(name, where)


def split_row(text):
    """The columns of MACRO(a, "b, c", (d)) as written."""
    out, depth, quoted, start = [], 0, False, 0
    for i, c in enumerate(text):
        if c == '"' and text[i - 1] != "\\":
            quoted = not quoted
        elif quoted:
            pass
        elif c in "({":
            depth += 1
        elif c in ")}":
            depth -= 1
        elif c == "," and depth == 0:
            out.append(text[start:i])
            start = i + 1
    return [x.strip() for x in out + [text[start:]]]


def rows(text):
    """(macro, columns, line) of every row outside comments."""
    blank = re.sub(r"/\*.*?\*/", lambda m: re.sub(r"[^\n]", " ", m.group()), text,
                   flags=re.S)
    for m in re.finditer(r"^([A-Z][A-Z0-9_]*)\(((?:[^\"()]|\"(?:\\.|[^\"\\])*\"|\([^()]*\))*)\)",
                         blank, flags=re.M):
        yield m.group(1), split_row(m.group(2)), blank.count("\n", 0, m.start()) + 1


def read_def(path):
    text = open(path, encoding="utf-8").read()
    head = {}
    for comment in re.findall(r"/\*.*?\*/", text, flags=re.S):
        flat = re.sub(r"\s*\n\s*\*?\s*", " ", comment)
        for name, columns in re.findall(r"\b([A-Z][A-Z0-9_]*)\(([a-z0-9_, ]+)\)", flat):
            head.setdefault(name, [c.strip() for c in columns.split(",")])
    name = os.path.relpath(path, TOP)
    n = 0
    for macro, columns, line in rows(text):
        n += 1
        where = "%s:%d" % (name, line)
        if macro not in head or len(head[macro]) != len(columns):
            bad.append("%s: the head of the file does not list the columns of %s"
                       % (where, macro))
            continue
        for title, value in zip(head[macro], columns):
            if title.endswith("source") or title.endswith("sources"):
                for one in value.strip('"').split("|"):
                    use(one, where)
    if n == 0 and "CELLS" not in text:
        bad.append("%s: no rows were found" % name)


def comments(text):
    for m in re.finditer(r"/\*.*?\*/|//[^\n]*", text, flags=re.S):
        yield m.start(), m.group()


def read_code(path, messages, listed):
    text = open(path, encoding="utf-8").read()
    name = os.path.relpath(path, TOP)
    parts = [(0, text)] if path.endswith((".py", ".md")) else comments(text)
    for at, part in parts:
        for m in re.finditer(r"(?<![\w\])])\[(%s)(?:[],]|$)" % ID, part):
            word = m.group(1)
            if word in messages or path.endswith(".py") or \
                    "-" not in word and word not in listed:
                continue
            use(word, "%s:%d" % (name, text.count("\n", 0, at + m.start()) + 1))
        for m in re.finditer(r"\bSOURCES?:? (%s)((?: (?:and|,) %s)*)" % (ID, ID), part):
            use(m.group(1), "%s:%d" % (name, text.count("\n", 0, at + m.start()) + 1))


def main():
    listed = {}
    for i, line in enumerate(open(TOP + "/docs/sources.md", encoding="utf-8"), 1):
        m = re.match(r"\| `(%s)` \|" % ID, line)
        if m and m.group(1) in listed:
            bad.append("docs/sources.md:%d: '%s' is listed twice" % (i, m.group(1)))
        elif m:
            listed[m.group(1)] = i
    messages = set(re.findall(r'"([a-z0-9-]+)", *\\?\s*"',
                              open(TOP + "/include/kitmuster/messages.h").read()))
    for path in sorted(glob.glob(TOP + "/data/*.def")):
        read_def(path)
    code = sorted(glob.glob(TOP + "/src/*/*.[ch]") + glob.glob(TOP + "/include/*/*.h") +
                  glob.glob(TOP + "/tests/*/*.[ch]") + glob.glob(TOP + "/tests/*/*.py") +
                  glob.glob(TOP + "/docs/method.md"))
    for path in code:
        if not path.endswith("checks/sources.py"):
            read_code(path, messages, listed)
    for name, where in sorted(used.items()):
        if name not in listed:
            bad.append("%s: source '%s' is not in docs/sources.md" % (where, name))
    for name, line in sorted(listed.items()):
        if name not in used:
            bad.append("docs/sources.md:%d: nothing uses '%s'" % (line, name))
    print("\n".join(bad) if bad else "sources-check: %d sources, all listed and used"
          % len(listed))
    return 1 if bad or not listed or not used else 0


if __name__ == "__main__":
    sys.exit(main())
