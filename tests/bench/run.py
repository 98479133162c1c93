#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Measure the tool against a bare libyaml event loop over the same files.

    run.py BUILD [--quick]

Prints each ratio with the bar it should keep; a bar that is missed is marked
and makes the exit status 1.  Both sides are measured in the same run, each
several times, the best counts; growth, which has one side only, is measured
in time of the processor, which other programs hardly change.  --quick leaves
out the bench of a million.

Instructions are counted by valgrind's callgrind, where it is installed.
"""
import math
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time

HERE = os.path.dirname(os.path.abspath(__file__))
BUILD = os.path.abspath(sys.argv[1])
TOOL = BUILD + "/kitmuster"
LOOP = BUILD + "/tests/bench/yaml_loop"
QUICK = "--quick" in sys.argv
missed = 0


def report(what, value, bar, unit=""):
    global missed
    late = bar is not None and value > bar
    missed += late
    print("%-58s %9.3f%s%s%s" % (what, value, unit,
                                 "" if bar is None else "  bar %g" % bar,
                                 "  MISSED" if late else ""), flush=True)


def run(*command):
    """Seconds, peak bytes and processor seconds of a command that answers 0 or 1."""
    begun = time.perf_counter()
    p = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
    said = p.stderr.read()
    _, status, usage = os.wait4(p.pid, 0)
    took = time.perf_counter() - begun
    p.returncode = os.waitstatus_to_exitcode(status)
    if p.returncode not in (0, 1):
        sys.exit("%s: exit %d: %s" % (command[0], p.returncode, said[:500]))
    return took, usage.ru_maxrss * 1024, usage.ru_utime + usage.ru_stime


def best(times, *command):
    took = [run(*command) for _ in range(times)]
    return [min(one) for one in zip(*took)]


def instructions(*command):
    with tempfile.TemporaryDirectory() as t:
        p = subprocess.run(["valgrind", "--tool=callgrind",
                            "--callgrind-out-file=%s/out" % t, *command],
                           stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
        if p.returncode not in (0, 1):
            sys.exit("callgrind: %s" % p.stderr[-500:])
        return int(re.search(rb"Collected : (\d+)", p.stderr).group(1))


def generate(path, *args):
    with open(path, "w") as f:
        subprocess.run([sys.executable, HERE + "/generate.py", *args], stdout=f, check=True)


def small(t):
    generate(os.devnull, "small", t)
    files = ["%s/small-%s.yaml" % (t, n) for n in ("kit", "bench", "prices")]
    if not shutil.which("valgrind"):
        print("instructions: valgrind is not installed")
        return
    base = instructions(LOOP, *files)
    print("small: %d instructions of the loop" % base)
    report("check, 12 slots, 40 tools, 30 offers: instructions",
           instructions(TOOL, "check", *files) / base, None)
    report("audit, the same: instructions",
           instructions(TOOL, "audit", *files) / base, 2.0)


def large(t):
    path = t + "/large.yaml"
    generate(path, "bench", "100000")
    generate(os.devnull, "kits", "20", t)
    kits = ["%s/kit-%02d.yaml" % (t, k) for k in range(1, 21)]
    base, base_peak, _ = best(5, LOOP, path)
    print("large: 100 000 tools, %d bytes, loop %.3f s" % (os.path.getsize(path), base))
    took, peak, _ = best(5, TOOL, "check", path)
    report("check of 100 000 tools: time", took / base, 1.25)
    report("check: peak memory a tool", (peak - base_peak) / 1e5, 400, " bytes")
    below = t + "/below.yaml"
    generate(below, "below", "100000")
    report("check of the same, keys below one another: time",
           best(5, TOOL, "check", below)[0] / best(5, LOOP, below)[0], 1.25)
    os.unlink(below)
    base_all = best(5, LOOP, path, *kits)[0]
    took, peak, _ = best(3, TOOL, "audit", path, *kits)
    report("audit of 100 000 tools against 20 kits: time", took / base_all, 1.25)
    report("audit: peak memory a tool", (peak - base_peak) / 1e5, 400, " bytes")


def growth(t):
    sizes = [10 ** 4, 10 ** 5] + ([] if QUICK else [10 ** 6])
    generate(os.devnull, "kits", "1", t)
    points = []
    for n in sizes:
        path = "%s/growth-%d.yaml" % (t, n)
        generate(path, "bench", str(n))
        # of the processor: here nothing is measured beside it
        took = best(15 if n < 10 ** 5 else 3, TOOL, "audit", path,
                    t + "/kit-01.yaml")[2]
        points.append((math.log10(n), math.log10(took)))
        print("growth: %d tools %.3f s" % (n, took))
        os.unlink(path)
    slope = (points[-1][1] - points[0][1]) / (points[-1][0] - points[0][0])
    report("audit: slope of time, log-log, 10^4 to %g" % sizes[-1], slope, 1.05)


def main():
    with tempfile.TemporaryDirectory() as t:
        small(t)
        large(t)
        growth(t)
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
