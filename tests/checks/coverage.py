#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""coverage.py BUILD: lines of src that the suite ran, file by file."""
import os
import re
import subprocess
import sys

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
build = os.path.abspath(sys.argv[1])
ran = lines = 0
for folder, _, names in sorted(os.walk(build + "/src")):
    for name in sorted(n for n in names if n.endswith(".gcda")):
        out = subprocess.run(["gcov", "-n", os.path.join(folder, name)], cwd=TOP,
                             stdout=subprocess.PIPE, stderr=subprocess.DEVNULL).stdout
        for path, share, n in re.findall(
                r"File '(?:\./)?(src/[^']*\.c)'\nLines executed:([0-9.]+)% of (\d+)",
                out.decode()):
            here = round(float(share) * int(n) / 100)
            ran, lines = ran + here, lines + int(n)
            print("%6.1f %% of %4d  %s" % (float(share), int(n), path))
print("%6.1f %% of %4d  all" % (100 * ran / max(lines, 1), lines))
sys.exit(0 if lines else 1)
