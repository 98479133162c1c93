#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Add up every printed line again and find the printed totals.

    totals.py TOOL

Runs the sheets that hold money on the machines of demo/ and on one of its own
(a job lot and a minimum order), as text, CSV and JSON, under each aim of a
plan, and compares exact decimals.  What must hold needs no source: a total is
the sum of what stands above it.

Exit: 0 all agree, 1 not.
"""
import csv
import glob
import io
import json
import os
import re
import subprocess
import sys
import tempfile
from decimal import Decimal

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
TOOL = os.path.abspath(sys.argv[1])
COLUMNS = ("low", "likely", "high")
MONEY3 = re.compile(r" (-?[0-9.]+) +(-?[0-9.]+) +(-?[0-9.]+)$")
checked = 0

# A lot of two for 20.00 and 2.00 to send it; one thing of 3.00 where 10.00 is
# the least order (7.00 besides) and 4.80 to send: 22.00 + 14.80 = 36.80.
OWN = """
kit:
  id: k
  currency: GBP
  standard: usable
  slots:
    - {id: S-1, tool: tyre lever, length: 250 mm}
    - {id: S-2, tool: combination pliers, length: 165 mm}
    - {id: S-3, tool: screwdriver, drive: slotted, sizes: [0.8 x 5.5 mm], part: 54-703}
    - {id: S-4, tool: hammer}
bench: []
prices:
  currency: GBP
  as_of: 2026-04-01
  sellers:
    - {id: fair, postage: 2.00}
    - {id: north, postage: 4.80, minimum_order: 10.00}
  offers:
    - {id: o2, tool: combination pliers, length: 165 mm, state: used, seller: fair,
       condition: {rust: 0, pits: none, damage: none}}
    - {id: o3, tool: tyre lever, length: 250 mm, state: used, seller: fair,
       condition: {rust: 0, pits: none, damage: none}}
    - {id: o4, part: 54-703, state: new, price: 3.00, seller: north}
  job_lots:
    - {id: j1, seller: fair, price: 20.00, holds: [o2, o3]}
"""


def run(*args):
    got = subprocess.run([TOOL, "audit", *args], stdout=subprocess.PIPE,
                         stderr=subprocess.PIPE)
    assert got.returncode in (0, 1), (args, got.stderr.decode())
    return got.stdout.decode()


def data(sheet, args):
    return json.loads(run("--sheet", sheet, "--format", "json", *args),
                      parse_float=Decimal)


def same(a, b, what):
    global checked
    checked += 1
    assert a == b, "%s: %s is not %s" % (what, a, b)


def three(row, name):
    return [Decimal(row[name + "_" + c]) for c in COLUMNS]


def add(*many):
    return [sum(c, Decimal(0)) for c in zip(*many)] if many else [Decimal(0)] * 3


def shopping_text(args):
    """What each section adds up to, and the total at the end."""
    text = run("--sheet", "shopping", *args)
    lines, parcels, total = [], [], None
    for line in text.splitlines():
        m = MONEY3.search(line)
        if line.startswith("from "):
            lines = []
        if not m:
            continue
        row = [Decimal(x) for x in m.groups()]
        words = line[:m.start()].split()
        if words[-1] == "parcel":
            same(row, add(*lines), "parcel of %s" % args)
            parcels.append(row)
        elif words[-1] == "total":
            total = row
        else:
            lines.append(row)
    if total is not None:
        same(total, add(*parcels), "total of %s" % args)
    return total or add()


def shopping_csv(args):
    rows = list(csv.DictReader(io.StringIO(
        run("--sheet", "shopping", "--format", "csv", *args), newline="")))
    for r in rows:
        if r["each_likely"]:
            for c in COLUMNS:
                same(Decimal(r["pieces"]) * Decimal(r["each_" + c]),
                     Decimal(r["amount_" + c]), "line of %s" % r["slot"])
    return add(*[three(r, "amount") for r in rows if r["amount_low"]])


def shopping(args):
    d = data("shopping", args)
    for p in d["parcels"]:
        mine = [three(r, "amount") for r in d["lines"]
                if r["seller"] == p["seller"] and r["amount_low"] is not None]
        same(three(p, "total"), add(*mine), "parcel from %s" % p["seller"])
        same(three(p, "total"), add(three(p, "goods"), three(p, "postage")),
             "parcel from %s" % p["seller"])
    total = three(d["totals"][0], "total") if d["totals"] else add()
    same(total, shopping_csv(args), "CSV of %s" % args)
    same(total, shopping_text(args), "text of %s" % args)
    return total


def summary_text(args, kits):
    """restore, buy and postage come to what it takes to finish."""
    parts, totals = [], []
    for line in run(*args).splitlines():
        m = MONEY3.search(line)
        if not m:
            continue
        row = [Decimal(x) for x in m.groups()]
        if "to finish" in line:
            same(row, add(*parts), "to finish, %s" % args)
            totals.append(row)
            parts = []
        else:
            parts.append(row)
    same(totals, [three(k, "total") for k in kits], "screens of %s" % args)


def summary(args, bought):
    d = data("summary", args)
    for k in d["kits"]:
        same(three(k, "total"), add(three(k, "restore"), three(k, "buy"),
                                    three(k, "postage")), k["kit"])
    summary_text(args, d["kits"])
    plan = d["plan"][0]
    same(three(plan, "total"), add(*[three(k, "total") for k in d["kits"]]),
         "all kits of %s" % args)
    same(three(plan, "total"), add(three(plan, "goods"), three(plan, "work"),
                                   three(plan, "postage")), "the plan")
    same(add(three(plan, "goods"), three(plan, "postage")), bought,
         "what the plan buys in %s" % args)
    same(three(plan, "postage"), add(*[three(b, "cost") for b in d["bills"]
                                       if b["kind"] == "parcel"]), "postage")
    for b in d["bills"]:
        if b["kind"] == "parcel":
            assert all(u <= c for u, c in zip(three(b, "top_up"),
                                              three(b, "cost"))), b
    return plan


def shortage(args):
    d = data("shortage", args)
    for r in d["lines"]:
        same(Decimal(r["wanted"]) - r["have"], r["short"], r["slot"])
        assert r["short"] > 0, r
    rows = list(csv.DictReader(io.StringIO(
        run("--sheet", "shortage", "--format", "csv", *args), newline="")))
    same([r["short"] for r in rows], [str(r["short"]) for r in d["lines"]],
         "CSV of the shortage")


def frontier(args, plan):
    points = data("frontier", args)["points"]
    money = [p["money"] for p in points]
    lost = [p["points_lost"] for p in points]
    assert money == sorted(set(money)), "money does not rise: %s" % money
    assert lost == sorted(set(lost), reverse=True), "points do not fall"
    chosen = [p for p in points if p["chosen"]]
    if plan["feasible"] and chosen:
        same(chosen[0]["money"], plan["total_likely"] + plan["own_time_likely"],
             "the plan on the frontier")
    for line, p in zip([l for l in run("--sheet", "frontier", *args)
                        .splitlines() if l.endswith((" yes", " no"))], points):
        same(line.split()[:2], [str(p["money"]), str(p["points_lost"])],
             "frontier in text")


def one(files):
    aims = [[], ["--budget", "20.00"], ["--points", "3.00"], ["--budget", "0"]]
    for aim in aims:
        args = aim + files
        plan = summary(args, shopping(args))
        frontier(args, plan)
        if aim[:1] == ["--budget"] and plan["feasible"]:
            assert plan["total_likely"] + plan["own_time_likely"] <= \
                Decimal(aim[1]), "over budget: %s" % plan
    shortage(files)


def main():
    kits = sorted(glob.glob(TOP + "/demo/*.kit.yaml"))
    assert kits, "no demo"
    for kit in kits:
        one(sorted(glob.glob(kit.split(".kit.")[0] + ".*")))
    everything = sorted(glob.glob(TOP + "/demo/tractor.*"))
    one(everything + ["--standard", "usable"])
    with tempfile.TemporaryDirectory() as folder:
        path = folder + "/own.yaml"
        with open(path, "w") as f:
            f.write(OWN)
        same(shopping([path])[1], Decimal("36.80"), "the worked example")
        one([path])
    assert checked > 100, checked
    print("totals.py: %d sums found again" % checked)


try:
    main()
except AssertionError as wrong:
    print("totals.py:", wrong)
    sys.exit(1)
