#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Run the tool as its users do and compare what it prints.

    run.py [--update] [--under COMMAND] TOOL [FILE...]

Reads the .console files of tests/golden and its folders, and every ```console block of README.md,
DEVELOPERS.md and docs/*.md; or only the FILEs.  A console is

    $ a command for sh
    what it prints on standard output
    [exit 1]

where the last line is left out for exit 0.  Nothing may come on standard
error, unless the command says 2>&1.  A command that ends in a backslash goes
on in the next line.  In a .console file, lines before the first command that
begin with # are remarks.

Commands run in the top folder, with the tool first in PATH, an environment
that says nothing, and $T, a folder that is empty at the start of each file.

--update    write what is printed into the files, but for commands that say
            something on standard error: those are to be mended
--under     run the tool under a command, such as valgrind

Exit: 0 all agree, 1 one differs, there is no case at all, or a case that must
fail does not.
"""
import argparse
import difflib
import glob
import os
import re
import shlex
import subprocess
import sys
import tempfile

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
SECONDS = 120
SECONDS_UNDER = 600		# another command makes all slower


def split_cases(text):
    """[head, case, case ...] of a console; each case starts with its '$ '."""
    parts = re.split(r"^(?=\$ )", text, flags=re.M)
    return parts if not text.startswith("$ ") else [""] + parts[1:]


def split_case(case):
    """The command and what is expected of it."""
    lines = case.split("\n")
    n = 1
    while lines[n - 1].endswith("\\") and n < len(lines):
        n += 1
    return "\n".join(lines[:n])[2:], "\n".join(lines[n:])


def run(command, env, seconds):
    done = subprocess.run(["sh", "-c", command], cwd=TOP, env=env,
                          stdin=subprocess.DEVNULL, capture_output=True,
                          timeout=seconds)
    out = done.stdout.decode("utf-8", "backslashreplace")
    if out and not out.endswith("\n"):
        out += "\n[no line feed at the end]\n"
    if done.stderr:
        out += "[standard error]\n" + done.stderr.decode("utf-8", "backslashreplace")
    if done.returncode:
        out += "[exit %d]\n" % done.returncode
    return out


def consoles(path, text):
    """Pieces of a file: (is a console, text)."""
    if path.endswith(".console"):
        return [(True, text)]
    parts = re.split(r"^(```console\n)(.*?)(?=^```$)", text, flags=re.M | re.S)
    found = []
    for i in range(0, len(parts), 3):
        found.append((False, parts[i] + (parts[i + 1] if i + 1 < len(parts) else "")))
        if i + 2 < len(parts):
            found.append((True, parts[i + 2]))
    return found


class Runner:
    def __init__(self, bin_folder, seconds=SECONDS):
        self.bin, self.seconds = bin_folder, seconds
        self.passed = self.failed = 0
        self.show = True

    def console(self, name, text, env):
        """Runs every case; returns the text as it should be."""
        head, *cases = split_cases(text)
        out = [head]
        for case in cases:
            command, expected = split_case(case)
            blank = re.search(r"\n*\Z", expected).group()
            if blank != expected:
                blank = blank[1:]	# the first ends the last line
            got = run(command, env, self.seconds)
            if got.strip("\n") == expected.strip("\n"):
                self.passed += 1
            else:
                self.failed += 1
                self.differ(name, command, expected, got)
            keep = "\n[standard error]\n" in "\n" + got
            out.append(case if keep else "$ " + command + "\n" + got + blank)
        return "".join(out)

    def differ(self, name, command, expected, got):
        if not self.show:
            return
        print("%s: $ %s" % (name, command))
        print("\n".join(difflib.unified_diff(
            expected.rstrip("\n").split("\n"), got.rstrip("\n").split("\n"),
            "expected", "printed", lineterm="")))

    def file(self, path, update):
        with open(path, encoding="utf-8", newline="") as f:
            text = f.read()
        name = os.path.relpath(path, TOP)
        with tempfile.TemporaryDirectory() as folder:
            env = {"PATH": self.bin + ":/usr/bin:/bin", "LANG": "C",
                   "TZ": "UTC", "T": folder}
            new = "".join(self.console(name, part, env) if is_console else part
                          for is_console, part in consoles(path, text))
        if update and new != text:
            with open(path, "w", encoding="utf-8", newline="") as f:
                f.write(new)
            print("%s: rewritten" % name)


def self_test(bin_folder):
    """A runner that passes everything is worth nothing."""
    cases = [("$ echo right\nwrong\n", 1), ("$ echo right\nright\n", 0),
             ("$ exit 1\n", 1), ("$ exit 1\n[exit 1]\n", 0),
             ("$ echo oops >&2\n", 1), ("$ echo oops >&2\noops\n", 1)]
    for text, fails in cases:
        runner = Runner(bin_folder)
        runner.show = False
        runner.console("self-test", text, {"PATH": "/usr/bin:/bin"})
        if runner.failed != fails or runner.passed + runner.failed != 1:
            print("golden: the runner itself is broken at %r" % text)
            return False
    return True


def main():
    p = argparse.ArgumentParser()
    p.add_argument("--update", action="store_true")
    p.add_argument("--under", default="")
    p.add_argument("tool")
    p.add_argument("files", nargs="*")
    o = p.parse_args()
    if not os.access(o.tool, os.X_OK):
        p.error("there is no tool %s" % o.tool)
    files = o.files or sorted(glob.glob(TOP + "/tests/golden/**/*.console", recursive=True)) + \
        [f for f in [TOP + "/README.md", TOP + "/DEVELOPERS.md"]
         if os.path.exists(f)] + sorted(glob.glob(TOP + "/docs/*.md"))
    with tempfile.TemporaryDirectory() as folder:
        wrapper = os.path.join(folder, "kitmuster")
        with open(wrapper, "w") as f:
            f.write("#!/bin/sh\nexec %s %s \"$@\"\n" %
                    (o.under, shlex.quote(os.path.abspath(o.tool))))
        os.chmod(wrapper, 0o755)
        if not self_test(folder):
            return 1
        runner = Runner(folder, SECONDS_UNDER if o.under else SECONDS)
        for path in files:
            runner.file(path, o.update)
    print("golden: %d passed, %d failed" % (runner.passed, runner.failed))
    return 1 if runner.passed == 0 or (runner.failed and not o.update) else 0


if __name__ == "__main__":
    sys.exit(main())
