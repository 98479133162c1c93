#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""escape.py PROGRAM: what km_escape_...() writes, read back by the parsers of
a general-purpose library: JSON, CSV, XML and HTML must give the text again,
and a terminal must meet no character that acts.

The properties of characters come from the same library's copy of the Unicode
Character Database [unicode-ucd].
"""
import csv
import html
import io
import json
import random
import subprocess
import sys
import unicodedata
import xml.etree.ElementTree as ElementTree

TEXTS = 2000
CHARACTERS = ("abcXYZ019 .,;:'\"\\/<>&=+-@%#![]{}|\t\n\r\0\x07\x1b\x7f\x80\x85\x9b"
              "\xa0\xe9\xbd\u061c\u200e\u200f\u2028\u2029\u202a\u202e\u2066\u2069"
              "\u20ac\ufeff\ufffd\ufffe\uffff\U0001d11e\U0010fffd")
TURNS = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}


def plain(c):
    """Text that stands in XML and HTML as it is."""
    return c in "\t\n" or not (unicodedata.category(c) == "Cc" or c in "\ufffe\uffff")


def expected_markup(text, also=""):
    return "".join(c if plain(c) or c in also else "\ufffd" for c in text)


def json_says(text, out):
    return json.loads('"' + out + '"') == text


def csv_says(text, out):
    row = next(csv.reader(io.StringIO("x," + out + ",y\r\n", newline=""), strict=True))
    layout = "\t\n\r"
    kept = "".join("\ufffd" if c not in layout and (c < " " or c == "\x7f") else c
                   for c in text)
    acts = text.lstrip(' "\n')[:1]
    apostrophe = "'" if acts and acts in "=+-@\t\r\0" else ""
    return row == ["x", apostrophe + kept, "y"]


def xml_says(text, out):
    e = ElementTree.fromstring('<a b="%s">%s</a>' % (out, out))
    wanted = expected_markup(text, "\r")
    return (e.text or "") == wanted and e.get("b") == wanted


def html_says(text, out):
    return not set(out) & set("<>\"'") and html.unescape(out) == expected_markup(text)


def one_line(out):
    return all(unicodedata.category(c) not in ("Cc", "Zl", "Zp") and
               unicodedata.bidirectional(c) not in TURNS and
               c not in "\u061c\u200e\u200f" for c in out)


def terminal_says(text, out):
    return one_line(out)


def github_says(text, out):
    return one_line(out) and "%" not in out.replace("%25", "").replace(
        "%0A", "").replace("%0D", "")


CHECKS = {"json": json_says, "csv": csv_says, "xml": xml_says, "html": html_says,
          "terminal": terminal_says, "github": github_says}


def run(program, lines):
    done = subprocess.run([program, "serve"], input="".join(lines).encode(),
                          stdout=subprocess.PIPE, check=True)
    return [bytes.fromhex(x) for x in done.stdout.decode().split("\n")[:-1]]


def main():
    program = sys.argv[1]
    dice = random.Random(4417)
    texts = [c for c in CHARACTERS] + [
        "".join(dice.choices(CHARACTERS, k=dice.randrange(0, 12))) for _ in range(TEXTS)]
    raw = [bytes(dice.choices(range(256), k=dice.randrange(0, 12))) for _ in range(TEXTS)]
    failed = counted = 0
    for mode, says in CHECKS.items():
        outs = run(program, ["%s %s\n" % (mode, t.encode().hex()) for t in texts])
        assert len(outs) == len(texts)
        for text, out in zip(texts, outs):
            counted += 1
            if not says(text, out.decode()):
                failed += 1
                print("%s: %r gives %r" % (mode, text, out.decode()))
        # any bytes at all give valid UTF-8
        for text, out in zip(raw, run(program, ["%s %s\n" % (mode, t.hex())
                                                for t in raw])):
            counted += 1
            try:
                out.decode()
            except UnicodeDecodeError:
                failed += 1
                print("%s: %r gives invalid %r" % (mode, text, out))
    # a check that cannot fail is none
    if json_says("a", "b") or one_line("\x1b") or csv_says("=1", "=1"):
        failed += 1
    print("escape: %d texts read back, %d wrong" % (counted, failed))
    return 1 if failed or not counted else 0


if __name__ == "__main__":
    sys.exit(main())
