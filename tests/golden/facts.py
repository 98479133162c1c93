#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Print chosen facts of an audit, one row a line, for the consoles beside it.

    facts.py LIST COLUMNS [OPTION...] FILE...

LIST      slots, matches, kits, remarks, shopping, parcels or totals; of the
          job sheet steps, jobs, do-not, worked-on or kept; of the manifest
          manifest, sent or outstanding; of the pouch pocketed; of a
          machine whose kit is open kit-readings or reading-slots; of the
          evidence claims
COLUMNS   joined by commas.  NAME is printed as it is in the JSON, a list
          joined by commas, null, "" and [] as -.  NAME~WORD+WORD says yes if
          one text of it has all the words, else no, so that wording may
          change where a figure or an id may not.  NAME=VALUE is not printed:
          only rows with that value are.
The rest goes to kitmuster, whose exit status and messages are passed on.
"""
import json
import re
import subprocess
import sys

SHEETS = {"slots": ("slots", "slots"), "matches": ("matches", "matches"),
          "kits": ("summary", "kits"), "remarks": ("summary", "remarks"),
          "shopping": ("shopping", "lines"), "parcels": ("shopping", "parcels"),
          "totals": ("shopping", "totals"),
          "steps": ("jobs", "steps"), "jobs": ("jobs", "jobs"),
          "do-not": ("jobs", "do_not"), "worked-on": ("jobs", "tools"),
          "kept": ("jobs", "kept_as_found"),
          "questions": ("questions", "questions"),
          "answers": ("questions", "readings"),
          "turns": ("questions", "turns"),
          "claims": ("evidence", "claims"),
          "manifest": ("manifest", "lines"), "sent": ("manifest", "totals"),
          "outstanding": ("manifest", "outstanding"),
          "pocketed": ("pouch", "pieces"),
          "kit-readings": ("summary", "readings"),
          "reading-slots": ("slots", "reading_slots")}


def say(value):
    if value is True or value is False:
        return "yes" if value else "no"
    if isinstance(value, list):
        value = ",".join(value)
    return "-" if value is None or value == "" else str(value)


def has(value, words):
    """One text of the value has all the words, none as a part of a longer word
    or figure: 1 is not in 12, 0.1 or 1.5."""
    def whole(text, word):
        return re.search(r"(?<!\w)(?<!\d\.)" + re.escape(word) +
                         r"(?!\w|\.\d)", text)
    texts = value if isinstance(value, list) else [value or ""]
    return any(all(whole(t, w) for w in words) for t in texts)


def main():
    name, columns, *rest = sys.argv[1:]
    sheet, member = SHEETS[name]
    done = subprocess.run(["kitmuster", "audit", "--sheet", sheet, "--json"] + rest,
                          stdout=subprocess.PIPE)
    if done.stdout:
        shown = [c for c in columns.split(",") if "=" not in c]
        only = [c.split("=", 1) for c in columns.split(",") if "=" in c]
        for row in json.loads(done.stdout, parse_float=str)[member]:
            if any(say(row[key]) != value for key, value in only):
                continue
            print("  ".join(
                say(row[c]) if "~" not in c else
                say(has(row[c.split("~")[0]], c.split("~", 1)[1].split("+")))
                for c in shown))
    return done.returncode


if __name__ == "__main__":
    sys.exit(main())
