#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""manual.py TOOL: manual pages and completions against the tables they are
made from, by the programs that read them.

- mandoc finds nothing to say about either page (but that the other one is not
  installed), and shows every option, command, sheet and message id
- bash, zsh and fish can read their completions; bash offers what there is
Programs that are not there are skipped.
"""
import os
import re
import shutil
import subprocess
import sys
import tempfile

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
TOOL = os.path.abspath(sys.argv[1])
bad = []


def out(*args, **more):
    return subprocess.run(args, stdout=subprocess.PIPE, check=True,
                          **more).stdout.decode()


def options(text):
    return set(re.findall(r"(?<![\w-])--[a-z][a-z-]*[a-z]", text))


def check_page(page, section, words):
    if not shutil.which("mandoc"):
        return
    with tempfile.NamedTemporaryFile("w", suffix="." + section) as f:
        f.write(page)
        f.flush()
        lint = subprocess.run(["mandoc", "-Tlint", f.name],
                              stdout=subprocess.PIPE).stdout.decode()
        for line in lint.splitlines():
            if "referenced manual not found: Xr kitmuster" not in line:
                bad.append(line)
        shown = out("mandoc", "-Tutf8", "-Owidth=300", f.name)
    shown = re.sub(".\b", "", shown)
    for w in words:
        if w not in shown:
            bad.append("the manual page does not show %r" % w)


def check_bash(script, commands, sheets):
    ask = ("%s\nCOMP_WORDS=(%s); COMP_CWORD=$((${#COMP_WORDS[@]} - 1));"
           "_kitmuster; printf '%%s\\n' \"${COMPREPLY[@]}\"")
    cases = [("kitmuster ''", set(commands)),
             ("kitmuster audit --sheet ''", set(sheets)),
             ("kitmuster audit --sheet fr", {"frontier"}),
             ("kitmuster gauge --ver", {"--verbose", "--version"}),
             ("kitmuster audit --standard us", {"usable"}),
             ("kitmuster audit demo/tractor.kit.yaml --kit ''",
              {"harrowgill-30-first"}),
             ("kitmuster audit demo/tractor.kit.yaml -o $keep --kit harr",
              {"harrowgill-30-first"})]
    env = dict(os.environ, PATH=os.path.dirname(TOOL) + ":" + os.environ["PATH"])
    with tempfile.NamedTemporaryFile("w", suffix=".yaml") as keep:
        keep.write("kept")
        keep.flush()
        env["keep"] = keep.name
        ask_all(script, ask, cases, env)
        if open(keep.name).read() != "kept":
            bad.append("bash wrote into a file while completing")


def ask_all(script, ask, cases, env):
    for words, want in cases:
        got = set(out("bash", "-c", ask % (script, words), env=env, cwd=TOP).split())
        if got != want:
            bad.append("bash offers %s after %s" % (sorted(got), words))


def main():
    help_ = out(TOOL, "help")
    commands = re.findall(r"^  (\w+) ", help_.split("\ncommands:\n")[1]
                          .split("\n\n")[0], flags=re.M)
    words = set().union(*(options(out(TOOL, "help", c)) for c in commands))
    sheets = re.findall(r"^  ([a-z-]+) ", out(TOOL, "help", "audit")
                        .split("\nsheets:\n")[1].split("\n\n")[0], flags=re.M)
    check_page(out(TOOL, "help", "--format", "mdoc"), "1",
               words | set(commands) | set(sheets) | {"unknown-key", "anchor"})
    check_page(out(TOOL, "schema", "--format", "mdoc"), "5",
               {"goes_with", "handle_colour", "lot_minimum", "came_with"})
    for shell in ("bash", "zsh", "fish"):
        script = out(TOOL, "help", "--format", shell)
        for o in words:
            if "-l " + o[2:] not in script and o not in script:
                bad.append("%s does not offer %s" % (shell, o))
        if not shutil.which(shell):
            continue
        p = subprocess.run([shell, "-n"], input=script.encode(),
                           stderr=subprocess.PIPE)
        if p.returncode:
            bad.append("%s: %s" % (shell, p.stderr.decode()))
        if shell == "bash":
            check_bash(script, commands, sheets)
    for line in bad:
        print(line)
    return bool(bad)


sys.exit(main())
