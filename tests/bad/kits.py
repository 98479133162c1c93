#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Questions about kits that cannot be answered: `compare` and `which` with too
few kits, without tools, with kits that are not there.

    kits.py TOOL [--no-limits]

Every message names its id and, where a file is at fault, its place.

Exit: 0 all refused as they should be, 1 not.
"""
import os
import subprocess
import sys
import tempfile

TOOL = os.path.abspath(sys.argv[1])

KIT = """kit:
  id: %s
  serials: {from: %d, to: %d}
  slots:
    - {id: S1, tool: hammer, length: 300 mm}
"""
FILES = {
    "a.yaml": KIT % ("kit-a", 1, 800),
    "b.yaml": KIT % ("kit-b", 801, 900),
    "again.yaml": KIT % ("Kit-A", 1, 800),
    "machine.yaml": "machine: {serial: 900, owner: customer-x}\n",
    "none.yaml": "bench: []\n",
    "other.yaml": "bench:\n  - {id: T1, tool: hammer, owner: customer-y}\n",
    "bought.yaml": "bench:\n  - {id: T1, tool: hammer, status: ordered}\n",
    "mine.yaml": "bench:\n  - {id: T1, tool: hammer, came_with: serial 900}\n",
    "long.yaml": "kit:\n  id: long\n  serials: {from: 1, to: {earliest: 800, latest: 900}}\n"
                 "  slots:\n" + "".join("    - {id: S%d, tool: hammer}\n" % i for i in range(1001)),
    "longer.yaml": "kit:\n  id: longer\n  serials: {from: {earliest: 801, latest: 901}}\n"
                   "  slots:\n" + "".join("    - {id: S%d, tool: jack}\n" % i for i in range(1000)),
    "between.yaml": "machine: {serial: 850}\n",
    "shop.csv": "id,tool\n" + "".join("T%d,hammer\n" % i for i in range(2001)),
}

# arguments, exit status, what stderr begins with, id of the message, what else
# it says
CASES = [
    # one kit has nothing to stand beside
    (["compare", "a.yaml"], 2, "a.yaml:2:3: error: ", "one-kit"),
    (["compare", "--kit", "kit-b", "a.yaml", "b.yaml"], 2, "b.yaml:2:3: ", "one-kit"),
    # the same kit twice is one kit
    (["compare", "--kit", "kit-a", "--kit", "KIT-A", "a.yaml", "b.yaml"], 2,
     "a.yaml:2:3: ", "one-kit"),
    (["compare", "machine.yaml", "mine.yaml"], 2, "machine.yaml: error: ", "no-kits"),
    (["which", "machine.yaml", "mine.yaml"], 2, "machine.yaml: error: ", "no-kits"),
    # two kits with one id, told apart by nothing: ids ignore case
    (["compare", "a.yaml", "again.yaml"], 2, "again.yaml:2:3: ", "duplicate-id"),
    (["which", "a.yaml", "again.yaml", "mine.yaml"], 2, "again.yaml:2:3: ", "duplicate-id"),
    # 1001 x 1000 pairs of slots are over a million
    (["compare", "long.yaml", "longer.yaml"], 2, "longer.yaml:2:3: error: ", "kits-too-large",
     "kit 'longer' of 1000 slots beside 'long' of 1001: more than 1000000 pairs"),
    (["audit", "long.yaml", "longer.yaml", "between.yaml"], 2, "longer.yaml:2:3: error: ",
     "kits-too-large"),
    # a kit that is not there, a near one is named
    (["compare", "--kit", "kit-a", "--kit", "kit-c", "a.yaml", "b.yaml"], 2,
     "kitmuster: error: ", "no-such-kit"),
    (["which", "--kit", "kit-c", "a.yaml", "b.yaml", "mine.yaml"], 2,
     "kitmuster: error: ", "no-such-kit", "did you mean 'kit-"),
    # nothing to go by
    (["which", "a.yaml"], 2, "a.yaml:2:3: error: ", "no-tools", "there is none among the files"),
    (["which", "a.yaml", "none.yaml", "machine.yaml"], 2, "machine.yaml:1:10: error: ", "no-tools"),
    (["which", "a.yaml", "machine.yaml", "other.yaml"], 2, "machine.yaml:1:10: error: ",
     "no-tools", "none came with the machine or is of its owner"),
    (["which", "a.yaml", "bought.yaml"], 2, "a.yaml:2:3: error: ",
     "no-tools", "all are bought for a kit"),
    (["which", "a.yaml", "shop.csv"], 2, "a.yaml:2:3: error: ",
     "no-tools", "2001 are more than a kit"),
    # usage
    (["compare"], 2, "usage: kitmuster compare", None),
    (["which"], 2, "usage: kitmuster which", None),
    (["compare", "--format", "svg", "a.yaml", "b.yaml"], 2, "kitmuster: compare ", None, "csv"),
    (["which", "--format", "svg", "a.yaml", "mine.yaml"], 2, "kitmuster: which ", None, "csv"),
    (["compare", "--sheet", "slots", "a.yaml", "b.yaml"], 2, "kitmuster: --sheet ", None, "compare"),
    (["compare", "a.yaml", "missing.yaml"], 3, "missing.yaml: error: ", "cannot-read"),
    # and what can be answered is: the same but for the id, and one tool
    (["compare", "a.yaml", "b.yaml"], 0, "", None),
    (["which", "a.yaml", "b.yaml", "machine.yaml", "mine.yaml"], 0, "", None),
    (["which", "a.yaml", "b.yaml", "mine.yaml"], 0, "", None),
]


def main():
    failed = 0
    with tempfile.TemporaryDirectory() as folder:
        for name, text in FILES.items():
            with open(os.path.join(folder, name), "w", encoding="utf-8") as f:
                f.write(text)
        for args, status, begins, message, *says in CASES:
            done = subprocess.run([TOOL] + args, cwd=folder, capture_output=True,
                                  stdin=subprocess.DEVNULL, timeout=60)
            err = done.stderr.decode("utf-8", "backslashreplace")
            says += ["[%s]\n" % message] if message else []
            good = done.returncode == status and err.startswith(begins) and \
                all(words in err for words in says)
            if status and done.stdout or not status and err:
                good = False
            if not good:
                failed += 1
                print("kits: %s: exit %d\n%s" % (" ".join(args), done.returncode, err))
    print("kits: %d cases, %d failed" % (len(CASES), failed))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
