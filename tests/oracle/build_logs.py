#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Read the formats for build logs with other programs.

    build_logs.py TOOL

SOURCE tap-14: first line, one plan, points in order, # and \\ escaped, the
block between --- and ... is YAML.  The points are read by Perl's TAP::Parser,
which knows version 13: only the first line is changed for it.
SOURCE junit-shape, xml-1.0: well-formed, counts that are true, names once.
SOURCE sarif-2.1.0: the members that its schema requires, levels, regions from
1.  SOURCE github-commands: every line is one command, %25 %0D %0A decoded.
All four are then held against the rows of `--sheet slots --format json`.

Exit: 0 all agree, 1 not.
"""
import glob
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ET

try:
    import yaml
except ImportError:
    yaml = None

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
TOOL = os.path.abspath(sys.argv[1])
LEVELS = {"note", "warning", "error"}
checked = 0

# Text that would act where it is not escaped: a directive, a command of a
# build log, an element, an entity, a quote.
HOSTILE = """
kit:
  id: k
  standard: as-delivered
  slots:
    - {id: A, tool: "rake # SKIP it", length: 100 mm, mark: "AB"}
    - {id: B, tool: "hoe ]]></failure> ::error::x %0A", length: 100 mm}
    - {id: C, tool: tyre lever, length: 250 mm, durable: no}
    - {id: D, tool: tyre lever, length: 300 mm, exists: {certainty: possible}}
    - {id: E, tool: tommy bar, length: 200 mm}
bench:
  - {id: T-1, tool: "rake # SKIP it", length: 100 mm, mark: "\\u0022<b>&# \\\\ ::error::"}
  - {id: T-2, tool: tommy bar, length: 200 mm, status: lent}
"""


def run(args):
    p = subprocess.run([TOOL] + args, capture_output=True, cwd=TOP)
    assert p.returncode in (0, 1, 2), p
    return p.returncode, p.stdout.decode("utf-8")


def expected(files):
    """(kit, slot, passes, counts) of each slot, from the JSON of the sheet."""
    code, text = run(["audit", "--sheet", "slots", "--json"] + files)
    rows = []
    for r in json.loads(text)["slots"]:
        if r["verdict"] == "unused":
            continue
        rows.append(r)
    return code, rows


def read_tap(text):
    lines = text.splitlines()
    assert lines[0] == "TAP version 14"
    plan = re.fullmatch(r"1\.\.(\d+)( #.*)?", lines[1])
    points, block = [], None
    for line in lines[2:]:
        if block is not None:
            if line == "  ...":
                if yaml:
                    doc = yaml.safe_load("\n".join(block))
                    assert doc["message"] and doc["line"] > 0, doc
                block = None
            else:
                block.append(line)
        elif line == "  ---":
            block = []
        else:
            m = re.fullmatch(r"(not ok|ok) (\d+) - (.*)", line)
            assert m, line
            assert int(m.group(2)) == len(points) + 1
            points.append((m.group(1) == "ok", m.group(3)))
    assert block is None and len(points) == int(plan.group(1))
    return points


def perl_tap(text):
    """(ok, skipped) of each point as TAP::Parser sees them; None without."""
    if not shutil.which("perl"):
        return None
    script = ("use TAP::Parser; local $/; my $p = TAP::Parser->new({tap => <STDIN>});"
              "while (my $r = $p->next) { print(($r->is_ok ? 1 : 0), "
              "($r->has_skip ? 1 : 0), \"\\n\") if $r->is_test }"
              "die join ',', $p->parse_errors if $p->parse_errors;")
    p = subprocess.run(["perl", "-e", script], capture_output=True,
                       input=text.replace("version 14", "version 13", 1).encode())
    if p.returncode and b"Can't locate" in p.stderr:
        return None
    assert p.returncode == 0, p.stderr
    return [(line[0] == "1", line[1] == "1") for line in p.stdout.decode().split()]


def check_tap(files, rows, result):
    global checked
    _, text = run(["audit", "--format", "tap"] + files)
    points = read_tap(text)
    assert len(points) == len(rows)
    for (ok, said), row in zip(points, rows):
        assert said.startswith("%s/%s " % (row["kit"], row["slot"])), said
        assert ok == (result[row["kit"], row["slot"]] != "fails"), said
    seen = perl_tap(text)
    if seen is not None:
        want = [(result[r["kit"], r["slot"]] != "fails",
                 result[r["kit"], r["slot"]] == "skipped") for r in rows]
        assert seen == want, (seen, want)
    checked += 1


def read_junit(files):
    _, text = run(["audit", "--format", "junit"] + files)
    root = ET.fromstring(text)
    result, names = {}, set()
    for suite in root:
        n = {"tests": 0, "failures": 0, "skipped": 0}
        for case in suite:
            key = (case.get("classname"), case.get("name"))
            assert key not in names and key[0] == suite.get("name")
            names.add(key)
            tags = [c.tag for c in case]
            assert tags in ([], ["failure"], ["skipped"])
            for c in case:
                assert c.get("message") == c.text and c.text
            n["tests"] += 1
            n["failures"] += tags == ["failure"]
            n["skipped"] += tags == ["skipped"]
            result[key] = {"": "passes", "failure": "fails",
                           "skipped": "skipped"}["".join(tags)]
        assert all(int(suite.get(k)) == n[k] for k in n), (suite.attrib, n)
    for k in ("tests", "failures", "skipped"):
        assert int(root.get(k)) == sum(int(s.get(k)) for s in root)
    return result


def read_sarif(text):
    doc = json.loads(text)
    assert doc["version"] == "2.1.0" and len(doc["runs"]) == 1
    run_ = doc["runs"][0]
    driver = run_["tool"]["driver"]
    assert driver["name"] and run_["columnKind"] == "unicodeCodePoints"
    ids = [r["id"] for r in driver["rules"]]
    assert len(ids) == len(set(ids))
    prints = set()
    for r in run_["results"]:
        assert r["level"] in LEVELS and r["message"]["text"]
        assert ids[r["ruleIndex"]] == r["ruleId"]
        for place in r.get("locations", []):
            at = place["physicalLocation"]
            assert re.fullmatch(r"[A-Za-z0-9._~/%-]+", at["artifactLocation"]["uri"])
            assert at.get("region", {"startLine": 1})["startLine"] >= 1
        prints.add(r["partialFingerprints"]["ruleAndSlot/v1"])
    assert len(prints) == len(run_["results"])
    return run_["results"]


def read_github(text):
    found = []
    for line in text.splitlines():
        m = re.fullmatch(r"::(notice|warning|error)( [^:]*)?::(.*)", line)
        assert m, line
        assert "%" not in re.sub(r"%(25|0D|0A)", "", m.group(3)), line
        found.append((m.group(1), m.group(3).replace("%0D", "\r")
                      .replace("%0A", "\n").replace("%25", "%")))
    ranks = [("error", "warning", "notice").index(w) for w, _ in found]
    assert ranks == sorted(ranks)
    return found


def check(files):
    global checked
    code, rows = expected(files)
    result = read_junit(files)
    assert set(result) == {(r["kit"], r["slot"]) for r in rows}
    for r in rows:
        got = result[r["kit"], r["slot"]]
        if r["verdict"] == "doubt" or got == "skipped":
            assert got != "fails", r
        elif r["verdict"] != "right":
            assert got == "fails", r
    # what fails is what the exit status tells of
    assert (code == 0) == ("fails" not in result.values()), (code, result)
    check_tap(files, rows, result)
    missed = [k for k in result if result[k] != "passes"]
    _, text = run(["audit", "--format", "sarif"] + files)
    sarif = read_sarif(text)
    assert len(sarif) == len(missed)
    _, text = run(["audit", "--format", "github"] + files)
    github = read_github(text)
    assert sorted(t for _, t in github) == sorted(
        r["message"]["text"] for r in sarif)
    checked += 3


def check_messages():
    global checked
    for path in sorted(glob.glob(os.path.join(TOP, "tests/bad/*.yaml")))[::5]:
        rel = os.path.relpath(path, TOP)
        _, text = run(["check", "--json", rel])
        want = json.loads(text)["messages"]
        _, text = run(["check", "--format", "sarif", rel])
        got = json.loads(text)["runs"][0]["results"]
        assert [r["ruleId"] for r in got] == [m["id"] for m in want], rel
        assert [r["message"]["text"] for r in got] == [m["text"] for m in want]
        _, text = run(["check", "--format", "github", rel])
        assert sorted(t for _, t in read_github(text)) == sorted(
            m["text"] for m in want), rel
        checked += 2


def main():
    for kit in sorted(glob.glob(os.path.join(TOP, "demo", "*.kit.yaml"))):
        base = kit[:-len("kit.yaml")]
        check(sorted(os.path.relpath(f, TOP) for f in glob.glob(base + "*")))
    with tempfile.NamedTemporaryFile("w", suffix=".yaml") as f:
        f.write(HOSTILE)
        f.flush()
        check([f.name])
    check_messages()
    print("build logs: %d documents agree" % checked)


main()
