#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""docs.py TOOL: what README.md, DEVELOPERS.md and docs/*.md say against what
is there.

- every --option they name is in the tool's help, and every option of the help
  is named in docs/commands.md
- every file they link to exists
- every `make` target they name exists
- docs/format.md is what the tool writes
- DEVELOPERS.md shows src/LAYERS as it is
"""
import glob
import os
import re
import subprocess
import sys

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
TOOL = os.path.abspath(sys.argv[1])
# options of other programs that the docs name
FOREIGN = {"--bench"}
bad = []


def read(path):
    with open(TOP + "/" + path, encoding="utf-8") as f:
        return f.read()


def options(text):
    return set(re.findall(r"(?<![\w-])--[a-z][a-z-]*[a-z]", text))


def help_of(*command):
    return subprocess.run([TOOL, "help", *command], stdout=subprocess.PIPE,
                          check=True).stdout.decode()


def main():
    commands = re.findall(r"^  (\w+) ", help_of().split("\ncommands:\n")[1]
                          .split("\n\n")[0], flags=re.M)
    known = set().union(*(options(help_of(c)) for c in commands))
    targets = set(re.findall(r"^([a-z-]+):", read("Makefile"), flags=re.M))
    files = ["README.md", "DEVELOPERS.md"] + sorted(
        os.path.relpath(p, TOP) for p in glob.glob(TOP + "/docs/*.md"))
    for name in files:
        text = read(name)
        for o in sorted(options(text) - known - FOREIGN):
            bad.append("%s: there is no option %s" % (name, o))
        for link in re.findall(r"\]\(([^)#:]+)(?:#[^)]*)?\)", text):
            if not os.path.exists(os.path.join(TOP, os.path.dirname(name), link)):
                bad.append("%s: links to %s, which does not exist" % (name, link))
        for t in re.findall(r"`make ([^`]*)`", text):
            for word in re.findall(r"(?<![\w=/.-])[a-z][a-z-]+(?![\w=/.])", t):
                if word not in targets:
                    bad.append("%s: there is no target '%s'" % (name, word))
    told = read("docs/commands.md")
    bad.extend("docs/commands.md: %s is not told; write it there" % o
               for o in sorted(known - options(told)))
    bad.extend("docs/commands.md: the command %s is not told" % c
               for c in commands if "## " + c not in told)
    written = subprocess.run([TOOL, "schema", "--format", "markdown"], check=True,
                             stdout=subprocess.PIPE).stdout.decode()
    if read("docs/format.md") != written:
        bad.append("docs/format.md: not what the tool writes; run "
                   "`kitmuster schema --format markdown -o docs/format.md`")
    if read("src/LAYERS") not in read("DEVELOPERS.md"):
        bad.append("DEVELOPERS.md: does not show src/LAYERS as it is; copy it there")
    print("\n".join(bad) if bad else "docs-check: %d files, %d options, %d commands"
          % (len(files), len(known), len(commands)))
    return 1 if bad or not known else 0


if __name__ == "__main__":
    sys.exit(main())
