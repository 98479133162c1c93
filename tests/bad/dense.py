#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""As many tools as slots, and every tool fits every slot.

    dense.py TOOL [--no-limits]

2 000 slots and 2 000 tools are 4 000 000 pairs, more than any bench of a
restorer has; each run must end within 20 s and 300 MB, and say the same
whatever the order of the tools.  --no-limits leaves out time and memory, for
builds with sanitizers, and takes 200 of each.

Worked by hand: tool i and slot i have the same length, and no two tools of
one length differ but in their ids.  So no tool fits slot i better than tool i,
all slots are right at once, and of all ways to share the tools out that are as
good, the one that gives each slot in turn the smallest id that it can have
gives slot i tool i.
"""
import json
import os
import sys
import tempfile
import time

TOOL = os.path.abspath(sys.argv[1])
LIMITS = "--no-limits" not in sys.argv
N = 2000 if LIMITS else 200
SECONDS, KIB = 20, 300 * 1024
failed = 0


def write(path, lengths, order):
    with open(path, "w") as f:
        f.write("kit:\n  id: k\n  title: Invented machine\n  maker_marks: [HG]\n"
                "  slots:\n")
        for i in range(N):
            f.write("    - {id: S-%d, tool: screwdriver, length: %s, mark: HG}\n"
                    % (i, lengths[i % len(lengths)]))
        f.write("bench:\n")
        for i in order:
            f.write("  - {id: T-%d, tool: screwdriver, length: %s, mark: HG}\n"
                    % (i, lengths[i % len(lengths)]))


def audit(path, out):
    """status, bytes, seconds, KiB"""
    with open(out, "wb") as f:
        begun = time.monotonic()
        pid = os.posix_spawn(
            TOOL, [TOOL, "audit", "-q", "--sheet", "slots", "--format", "json", path],
            os.environ, file_actions=[(os.POSIX_SPAWN_DUP2, f.fileno(), 1)])
        _, status, used = os.wait4(pid, 0)
    with open(out, "rb") as f:
        return (os.waitstatus_to_exitcode(status), f.read(),
                time.monotonic() - begun, used.ru_maxrss)


def check(name, lengths, folder):
    wrong, said = [], []
    for order in (range(N), range(N - 1, -1, -1)):
        write(folder + "/in.yaml", lengths, order)
        status, text, seconds, kib = audit(folder + "/in.yaml", folder + "/out")
        said.append(text)
        if status:
            wrong.append("status %d" % status)
            continue
        for i, slot in enumerate(json.loads(text)["slots"]):
            if (slot["slot"], slot["verdict"], slot["tools"]) != (
                    "S-%d" % i, "right", ["T-%d" % i]):
                wrong.append("%s %s: %s" % (slot["slot"], slot["verdict"],
                                            slot["tools"]))
                break
        if LIMITS and seconds > SECONDS:
            wrong.append("took %.1f s" % seconds)
        if LIMITS and kib > KIB:
            wrong.append("took %d KiB" % kib)
    if said[0] != said[1]:
        wrong.append("the order of the tools changes what is said")
    if wrong:
        print("not ok - %s: %s" % (name, "; ".join(wrong)))
    return not wrong


def main():
    cases = [("all alike", ["148 mm"]),
             ("two lengths, each within the limits of the other", ["148 mm", "150 mm"])]
    with tempfile.TemporaryDirectory() as folder:
        good = [check(*case, folder) for case in cases]
    print("dense: %d passed, %d failed" % (sum(good), len(good) - sum(good)))
    return 0 if all(good) else 1


if __name__ == "__main__":
    sys.exit(main())
