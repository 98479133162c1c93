#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Ask every question of random kits again, by editing their files.

    questions.py [--kits N] [--first SEED] [--keep FOLDER] PROGRAM

Each case is a set of files made from its seed: one or two kits with slots and
claims of every certainty, disputes, machines at a break that nobody knows, a
bench on which much is not recorded, pins, orders, prices and a rubric.  The sheet `questions` is held against them:

* the slots and claims that it asks about are those that the files leave open,
  and each claim is asked about by the values that the files name; of a tool
  it asks for nothing that the files record, and of every tool in an
  unverified slot it asks for something;
* each reading is written into the files, the whole is audited again, and the
  sheets `slots` and `summary` of that run say the same verdicts, counts,
  points and money as the reading; what turned is what differs between those
  sheets and the ones of the files as they were;
* the order of the questions, and which of them change nothing, is found again
  from those figures.

Exit: 0 all agree, 1 not.
"""
import argparse
import copy
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile

KINDS = {"combination pliers": {}, "screwdriver": {"drive": "slotted"},
         "single open-ended spanner": {}, "hammer": {}, "tyre lever": {}}
SURE = ["certain", "certain", "probable"]
WEAK = ["possible", "conjecture", "unknown", "disputed"]
ORDER = ["certain", "probable", "possible", "disputed", "conjecture",
         "unknown"]
# attribute -> values that a kit may claim and what the bench records of them
VALUES = {
    "sizes": ["[10 mm]", "[13 mm]", "[17 mm]"],
    "length": ["120 mm +-3", "150 mm +-4", "135 mm"],
    "finish": ["nickel", "black oxide", "zinc clear"],
    "handle_colour": ["\"#c47a1c\"", "\"#1a1a1a\"", "\"#b02020\""],
    "mark": ["CORVEN", "ASTLE 5", "B & T"],
}
MARKS = {"B & T": "\"B & T\""}
KEYS = ["tool", "sizes", "length", "finish", "handle_colour", "mark"]
# the order in which attributes are told apart, as the format lists them
ATTRIBUTES = ["tool", "drive", "sizes", "openings", "length", "thickness",
              "width", "angle", "bar", "hole", "blade", "jaw", "hook", "depth",
              "finish", "handle_colour", "handle_material", "mark", "made",
              "part"]
ABOUT = ["kit", "slot", "claim", "tool"]


class Wrong(Exception):
    """What the program says is not what the edited files say."""


def must(said, meant, *what):
    if said != meant:
        raise Wrong("%s: %s, by the files %s" % (" ".join(map(str, what)),
                                                 said, meant))


# ---- the files ----------------------------------------------------------

def make_claim(r, values):
    """A plain value, a claim with its certainty, or several that differ."""
    how = r.random()
    a, b = r.sample(values, 2)
    if how < 0.5:
        return a
    if how < 0.62:
        return [{"is": a, "certainty": r.choice(SURE + WEAK)},
                {"is": b, "certainty": r.choice(SURE + WEAK)}]
    if how < 0.72:
        return [{"is": a, "certainty": "probable"},
                {"any_of": [b, values[0]], "certainty": "probable"}]
    if how < 0.8:
        return {"any_of": [a, b], "certainty": r.choice(SURE + WEAK)}
    if how < 0.84:
        return "unknown"
    return {"is": a, "certainty": r.choice(SURE + WEAK)}


def asks_for(kind, key):
    """Does a slot or tool of the kind speak of the attribute?"""
    if key == "sizes":
        return kind == "single open-ended spanner"
    if key == "handle_colour":
        return kind == "screwdriver"
    return True


def make_slot(r, k, i):
    kind = r.choice(sorted(KINDS))
    s = {"id": "S%d" % i, "tool": kind, "part": "P%d%d" % (k, i)}
    s.update(KINDS[kind])
    for key in KEYS[1:]:
        if asks_for(kind, key) and (key == "sizes" or r.random() < 0.45):
            values = VALUES[key] + ["none"] * (key == "mark")
            s[key] = make_claim(r, values) if r.random() < 0.6 \
                else r.choice(values)
    if r.random() < 0.15:
        s["mark"] = "none"
    if r.random() < 0.4:
        s["exists"] = r.choice(WEAK + ["probable"])
    if r.random() < 0.15:
        s["count"] = 2
    if r.random() < 0.1:
        s["durable"] = "no"
    return s


def make_tool(r, kits, i):
    k = r.randrange(len(kits))
    slot = r.choice(kits[k]["slots"])
    t = {"id": "T%d" % i, "tool": slot["tool"]}
    if slot["tool"] == "screwdriver":
        t["drive"] = "slotted"
    for key in KEYS[1:]:
        if not asks_for(slot["tool"], key) or r.random() < 0.4:
            continue
        value = r.choice(VALUES[key])
        if key in slot and isinstance(slot[key], str) and r.random() < 0.7:
            value = slot[key]
        if value in ("none", "unknown"):
            continue
        if key == "length":
            value = value.split(" +-")[0]
        if key == "sizes" and r.random() < 0.3:
            key, value = "openings", {"10": "[10.1 mm]", "13": "[13.1 mm]",
                                      "17": "[17.15 mm]"}[value[1:3]]
        t[key] = value
    if r.random() < 0.1:
        t["mark"] = r.choice(["illegible", "none"])
    if r.random() < 0.12:
        t["pin"] = "K%d/%s" % (k, slot["id"])
    elif r.random() < 0.15:
        t["status"] = r.choice(["lent", "in-kit", "ordered"])
        if t["status"] == "ordered" and r.random() < 0.5:
            t["bought_for"] = "K%d/%s" % (k, slot["id"])
    return t


def make_later(r, kit):
    """A kit that followed on another: some slots changed, in another order,
    and nobody knows at which machine."""
    late = copy.deepcopy(kit)
    late["id"] = "K1"
    for i, s in enumerate(late["slots"]):
        s["id"] = "L%d" % i
        if r.random() < 0.4:
            late["slots"][i] = make_slot(r, 1, i)
    r.shuffle(late["slots"])
    kit["serials"] = "{from: 1, to: {earliest: 800, latest: 900}}"
    late["serials"] = "{from: {earliest: 801, latest: 901}}"
    return late


def make_case(seed):
    r = random.Random(seed)
    kits = []
    later = r.random() < 0.25
    for k in range(1 if later else r.choice([1, 1, 2])):
        kits.append({"id": "K%d" % k, "currency": "GBP",
                     "standard": r.choice(["as-delivered", "as-delivered",
                                           "period-correct", "usable"]),
                     "slots": [make_slot(r, k, i)
                               for i in range(r.randrange(2, 5))]})
    case = {"kits": kits, "bench": [], "rubric": None, "offers": [],
            "decisions": [], "machine": None}
    if later:
        kits.append(make_later(r, kits[0]))
        case["machine"] = {"serial": r.choice([850, 850, 30])}
    pins = set()
    for i in range(r.randrange(1, 6)):
        t = make_tool(r, kits, i)
        if t.get("pin") in pins:
            t.pop("pin", None)
        pins.add(t.get("pin"))
        case["bench"].append(t)
    for i in range(r.randrange(0, 5)):
        k = r.choice(kits)
        case["offers"].append(
            {"id": "o%d" % i, "part": r.choice(k["slots"])["part"],
             "seller": r.choice(["near", "far"]), "state": "nos",
             "price": "%d.%02d" % (r.randrange(1, 40), r.randrange(100))})
    if r.random() < 0.6:
        case["rubric"] = {"missing": "0.50", "incorrect": "0.25",
                          "condition": "0.10", "total": "3.00",
                          "extra": r.choice(["0.00", "0.20"])}
    if r.random() < 0.3:
        k = r.choice(kits)
        slot = r.choice(k["slots"])
        free = [t["id"] for t in case["bench"] if "pin" not in t and
                "status" not in t]
        way = r.choice(["open"] + free[:1])
        case["decisions"].append({"slot": "%s/%s" % (k["id"], slot["id"]),
                                  "way": way})
    return case


def flow(v):
    if isinstance(v, dict):
        return "{%s}" % ", ".join("%s: %s" % (k, flow(x))
                                  for k, x in v.items())
    if isinstance(v, list):
        return "[%s]" % ", ".join(flow(x) for x in v)
    return MARKS.get(str(v), str(v))


def write_case(case, folder):
    paths = []
    for k in case["kits"]:
        lines = ["kit:"]
        for key, value in k.items():
            if key != "slots":
                lines.append("  %s: %s" % (key, value))
        lines.append("  slots:" if k["slots"] else "  slots: []")
        lines += ["    - " + flow(s) for s in k["slots"]]
        paths.append((k["id"] + ".yaml", lines))
    lines = ["bench:"] + ["  - " + flow(t) for t in case["bench"]]
    lines += ["prices:", "  currency: GBP", "  sellers:",
              "    - {id: near, postage: 0.00}",
              "    - {id: far, postage: 4.80, free_over: 40.00}"]
    if case["offers"]:
        lines += ["  offers:"] + ["    - " + flow(o) for o in case["offers"]]
    if case["rubric"]:
        lines.append("rubric: " + flow(case["rubric"]))
    if case["machine"]:
        lines.append("machine: " + flow(case["machine"]))
    if case["decisions"]:
        lines.append("decisions:")
        lines += ["  - " + flow(d) for d in case["decisions"]]
    paths.append(("bench.yaml", lines))
    for name, lines in paths:
        with open(os.path.join(folder, name), "w", encoding="utf-8") as f:
            f.write("\n".join(lines) + "\n")
    return [os.path.join(folder, name) for name, _ in paths]


# ---- the program --------------------------------------------------------

def audit(program, paths, sheet):
    done = subprocess.run([program, "audit", "--sheet", sheet, "--json"] +
                          paths, stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE, check=False)
    if done.returncode not in (0, 1):
        raise Wrong("exit %d: %s" % (done.returncode, done.stderr.decode()))
    return json.loads(done.stdout)


def standing(row):
    return (row["verdict"], row["would_be"])


def look(program, case, folder):
    """Verdicts and figures of the files as they now are."""
    paths = write_case(case, folder)
    slots = audit(program, paths, "slots")
    kits = audit(program, paths, "summary")
    plan = slots["plan"][0]
    total = {key: sum(k[key] or 0 for k in kits["kits"]) for key in
             ("firm", "on_paper", "after_work", "rubric_lost",
              "rubric_lost_after_plan")}
    figures = {"firm": total["firm"], "on_paper": total["on_paper"],
               "after_work": total["after_work"],
               "points_now": round(100 * total["rubric_lost"]),
               "points_after_plan":
               round(100 * total["rubric_lost_after_plan"]),
               "to_finish": round(100 * plan["total_likely"]),
               "left_open": plan["places_short"]}
    rows = {(s["kit"], s["slot"]): s for s in slots["slots"]}
    ours = {k["kit"] for k in kits["kits"]}
    same = {(x["reading"], x["reading_slot"]): (x["kit"], x["slot"])
            for x in slots["reading_slots"] if x["slot"]}
    return rows, figures, ours, same


def figures_of(row):
    out = {}
    for key in ("firm", "on_paper", "after_work", "left_open"):
        out[key] = row[key]
    for key in ("points_now", "points_after_plan", "to_finish"):
        out[key] = round(100 * (row[key] or 0))
    return out


# ---- one reading in the files -------------------------------------------

def slot_in(case, kit, slot):
    for k in case["kits"]:
        if k["id"] == kit:
            return k, next(s for s in k["slots"] if s["id"] == slot)
    raise Wrong("no kit " + kit)


def take_out(case, kit, slot):
    k, s = slot_in(case, kit, slot)
    k["slots"].remove(s)
    name = "%s/%s" % (kit, slot)
    for t in case["bench"]:
        for key in ("pin", "bought_for"):
            if t.get(key) == name:
                del t[key]
    case["decisions"] = [d for d in case["decisions"] if d["slot"] != name]


def values_of(claim):
    if isinstance(claim, dict):
        return claim.get("any_of", [claim.get("is")])
    return [claim]


def readings_of(claim):
    """What the files name: a list of lists of values, or None for set
    aside; None: the claim is not open."""
    claims = claim if isinstance(claim, list) else [claim]
    if not isinstance(claims[0], dict):
        return None
    best = min(claims, key=lambda c: ORDER.index(c["certainty"]))["certainty"]
    first = [c for c in claims if c["certainty"] == best]
    less = [c for c in claims if c["certainty"] != best]
    said = [values_of(c) for c in first]
    disputed = any(v != said[0] for v in said)
    if not disputed and not (less and best != "certain") and \
            best in SURE:
        return None
    out = []
    if disputed:  # `none` is told last
        for v in sorted(sum(said, []), key=lambda v: v == "none"):
            out.append([v])
    else:
        out.append(said[0])
    out += [values_of(c) for c in less]
    once = [v for i, v in enumerate(out) if v not in out[:i]]
    return once if len(once) > 1 else once + [None]


def wanted(claim):
    """What a slot wants, each value as the program prints it."""
    claims = claim if isinstance(claim, list) else [claim]
    if not isinstance(claims[0], dict):
        return {printed(claim): claim}
    best = min(ORDER.index(c["certainty"]) for c in claims)
    return {printed(v): v for c in claims
            if ORDER.index(c["certainty"]) == best for v in values_of(c)}


def printed(value):
    return value.strip("[]\"").split(" +-")[0]


def found(row, slot, tool):
    """The attribute and what is written of it, for a reading of a tool."""
    key, value = row["attribute"], row["value"]
    if row["reading"] == "as-wanted":
        meant = wanted(slot[key])
        must(value in meant, True, "as wanted", value)
        if key == "length":
            return key, value
        return key, meant[value]
    if key == "sizes":
        value = "[%s]" % value.replace(" x ", ", ")
    must(value in (slot.get(key), tool.get(key)), False, "otherwise", value)
    return key, value


def apply(case, q, row, number):
    """The case with one reading written into it."""
    new = copy.deepcopy(case)
    if q["about"] == "kit":
        new["machine"]["kit"] = row["value"]
        return new
    _, slot = slot_in(new, q["kit"], q["slot"])
    if q["about"] == "slot" and row["reading"] == "there":
        slot["exists"] = "certain"
    elif q["about"] == "slot":
        take_out(new, q["kit"], q["slot"])
    elif q["about"] == "claim":
        values = readings_of(slot[q["attribute"]])[number]
        if values is None:
            must(row["reading"], "set-aside", "reading")
            slot[q["attribute"]] = "unknown"
        else:
            must(row["reading"] in ("value", "as-claimed"), True, "reading")
            must(len(row["value"].split(" or ")), len(values), "values",
                 row["value"], values)
            slot[q["attribute"]] = {"any_of": values, "certainty": "certain"}
    else:
        tool = next(t for t in new["bench"] if t["id"] == q["tool"])
        key, value = found(row, slot, tool)
        tool[key] = value
    return new


def name_in(kit, key, rows, same):
    """What a slot is called once the machine is known to have left with
    kit: the one there that is the same place."""
    if key[0] == kit:
        return key
    for (reading, slot), other in same.items():
        if reading == kit and other == key:
            return (kit, slot)
    return key


def turned_by(q, row, now, new):
    """The verdicts that are not as they were."""
    was, is_ = now[0], new[0]
    out = {}
    for key, before in was.items():
        other = key
        if row["reading"] == "kit":
            other = name_in(row["value"], key, is_, now[3])
        elif key[0] not in now[2] and key not in is_ and \
                any(k[0] not in new[2] for k in is_):
            continue    # now the same place as one of the other kit
        after = standing(is_[other]) if other in is_ else ("not-there", None)
        if after != standing(before):
            out[other] = (standing(before), after)
    return out


def check_reading(program, case, folder, q, row, number, turns, now):
    new = look(program, apply(case, q, row, number), folder)
    figures, meant = new[1], turned_by(q, row, now, new)
    what = ("question %d, %s %s" % (q["question"], row["reading"],
                                    row["value"]),)
    must(figures_of(row), figures, *what)
    said = {(t["kit"], t["slot"]):
            ((t["was"], t["was_would_be"]), (t["is"], t["is_would_be"]))
            for t in turns if t["question"] == q["question"] and
            t["reading"] == number + 1}
    must(said, meant, *what)
    must(len(row["turned"]), len(meant), *what)
    return figures, meant


# ---- all of them --------------------------------------------------------

def check_asked(case, said, rows):
    """Are they the questions that the files leave open?"""
    slots, claims = set(), set()
    for k in case["kits"]:
        for s in k["slots"]:
            if (k["id"], s["id"]) not in rows:
                continue
            if s.get("exists", "certain") in WEAK:
                slots.add((k["id"], s["id"]))
            claims |= {(k["id"], s["id"], key) for key in KEYS[1:]
                       if key in s and readings_of(s[key])}
    must({(q["kit"], q["slot"]) for q in said if q["about"] == "slot"},
         slots, "slots asked about")
    must({(q["kit"], q["slot"], q["attribute"]) for q in said
          if q["about"] == "claim"}, claims, "claims asked about")
    fuzzy = case["machine"] and case["machine"]["serial"] == 850
    must(sum(q["about"] == "kit" for q in said), int(bool(fuzzy)),
         "kits asked about")
    tools = {t["id"]: t for t in case["bench"]}
    for q in said:
        if q["about"] == "tool" and q["attribute"] != "sizes":
            must(tools[q["tool"]].get(q["attribute"]) in (None, "illegible"),
                 True, q["tool"], q["attribute"], "is open")
    asked = {q["tool"] for q in said}
    # a tool of another kind, put there by hand, is beyond asking
    kind = {(k["id"], s["id"]): s["tool"] for k in case["kits"]
            for s in k["slots"]}
    must(all(tools[q["tool"]]["tool"] == kind[q["kit"], q["slot"]]
             for q in said if q["about"] == "tool"), True, "kinds")
    for (kit, slot), row in rows.items():
        if "unverified" in standing(row) and len(row["tools"]) == 1:
            must(row["tools"][0] in asked, True, kit, slot, "is asked about")


def spread(values):
    return max(values) - min(values)


def size_of(outcomes, now):
    """Changes, differs, and by how much; as the order goes by them."""
    figures = [f for f, _ in outcomes]
    share = [1000 * f["on_paper"] // f["firm"] if f["firm"] else 0
             for f in figures]
    return (any(o != (now, {}) for o in outcomes),
            any(o != outcomes[0] for o in outcomes), spread(share),
            spread([f["to_finish"] for f in figures]),
            spread([f["points_after_plan"] for f in figures]),
            max(len(m) for _, m in outcomes))


def key_of(q, size):
    changes, differs, share, money, points, slots = size
    return (not differs, not changes, -share, -money, -points, -slots,
            q["kit"], q["slot"] or "", ATTRIBUTES.index(q["attribute"])
            if q["attribute"] else len(ATTRIBUTES),
            q["tool"] or "", ABOUT.index(q["about"]))


def check_case(program, case, folder, tally):
    paths = write_case(case, folder)
    said = audit(program, paths, "questions")
    now = look(program, case, folder)
    must(figures_of(said["now"][0]), now[1], "now")
    must(said["now"][0]["not_asked"], 0, "not asked")
    check_asked(case, said["questions"],
                {key: row for key, row in now[0].items()
                 if key[0] in now[2]})
    keys = []
    for q in said["questions"]:
        rows = [x for x in said["readings"] if x["question"] == q["question"]]
        must(len(rows) >= 2, True, "question", q["question"], "has readings")
        outcomes = [check_reading(program, case, folder, q, row, i,
                                  said["turns"], now)
                    for i, row in enumerate(rows)]
        size = size_of(outcomes, now[1])
        must((q["changes"], q["answers_differ"],
              round(1000 * q["complete_by"]), round(100 * q["money_by"]),
              round(100 * (q["points_by"] or 0)), q["slots_by"]), size,
             "question", q["question"], "size")
        keys.append(key_of(q, size))
        tally["questions"] += 1
        tally["readings"] += len(rows)
        tally[q["about"]] += 1
        tally["turned"] += sum(len(m) for _, m in outcomes)
    must(keys, sorted(keys), "order")


def main():
    a = argparse.ArgumentParser()
    a.add_argument("--kits", type=int, default=40)
    a.add_argument("--first", type=int, default=0)
    a.add_argument("--keep", help="keep the files of a case that fails here")
    a.add_argument("program")
    a = a.parse_args()
    tally = dict.fromkeys(("questions", "readings", "kit", "slot", "claim",
                           "tool", "turned"), 0)
    wrong = 0
    for seed in range(a.first, a.first + a.kits):
        case = make_case(seed)
        with tempfile.TemporaryDirectory() as folder:
            try:
                check_case(a.program, case, folder, tally)
            except Wrong as e:
                wrong += 1
                print("questions: seed %d: %s" % (seed, e))
                if a.keep:
                    write_case(case, folder)
                    shutil.copytree(folder, os.path.join(a.keep, str(seed)),
                                    dirs_exist_ok=True)
    print("questions: %d of %d agree; %d questions (%d of machines, %d of "
          "slots, %d of claims, %d of tools) of %d readings turn %d verdicts" %
          (a.kits - wrong, a.kits, tally["questions"], tally["kit"],
           tally["slot"], tally["claim"], tally["tool"], tally["readings"],
           tally["turned"]))
    nothing = not all(tally.values())
    return 1 if wrong or nothing else 0


if __name__ == "__main__":
    sys.exit(main())
