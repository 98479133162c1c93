#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Read every markdown sheet with another reader.

    markdown.py PROGRAM             PROGRAM is kitmuster

SOURCE cmark-gfm (SOURCE gfm), with its extensions for tables, strikes,
addresses and boxes to tick, makes HTML of each sheet of the demo machines and
of kits whose texts are markup.  Only headings, paragraphs, lists, strong
lines and tables may come of it, and each cell must hold what the cell of the
html sheet holds.  An address of electronic mail may become a link to itself:
the extension looks for it in finished text, where no escape is left.

Exit: 0 all agree, 1 not, 77 no cmark-gfm.
"""
import glob
import html.parser
import os
import re
import shutil
import subprocess
import sys
import tempfile

READER = ["cmark-gfm", "--unsafe", "-e", "table", "-e", "strikethrough", "-e",
          "autolink", "-e", "tasklist"]
ALLOWED = set("h1 h2 p strong table thead tbody tr th td ul li".split())
HOSTILE = [
    "*a* _b_ __c__ `d` ~~e~~ \\\\f ***", "[a](b) ![c](d) [e]: f", "| a | b |",
    "<b>a</b> <!-- b --> &lt; &#65; <http://c.example>", "# a", "1. a", "2) a",
    "- a", "+ a", "> a", "    a", "---", "***", "===", "```", "~~~", "- [ ] a",
    "www.example.org http://b.example https://c.example", "a@b.example", "a\\",
    "mailto:a@b.example xmpp:c@d.example ftp://e.example", ":smile: $a$ a^b^",
]


class Reader(html.parser.HTMLParser):
    """The elements of a page and the texts of its cells, row by row."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.elements, self.cells, self.text = set(), [], None
        self.all, self.body, self.link, self.link_text = "", False, None, ""
        self.mail = 0

    def handle_starttag(self, tag, attrs):
        self.elements.add(tag)
        if tag == "a":
            self.link, self.link_text = dict(attrs).get("href", ""), ""
        if tag == "tbody":
            self.body = True
        if tag in ("td", "th") and self.body and dict(attrs).get("scope") != \
                "rowgroup" and "colspan" not in dict(attrs):
            self.text = ""
        if tag == "br" and self.text is not None:
            self.text += "; "

    def handle_endtag(self, tag):
        if tag == "a" and "@" in self.link_text and self.link in (
                self.link_text, "mailto:" + self.link_text):
            self.mail += 1
        elif tag == "a":
            self.elements.add("a elsewhere")
        if tag in ("td", "th") and self.text is not None:
            self.cells.append(" ".join(self.text.split()))
            self.text = None
        if tag == "tbody":
            self.body = False

    def handle_data(self, data):
        self.link_text += data
        self.all += data
        if self.text is not None:
            self.text += data


def read(text):
    reader = Reader()
    reader.feed(text)
    reader.close()
    return reader


def render(markdown):
    return read(subprocess.run(READER, input=markdown, check=True,
                               stdout=subprocess.PIPE).stdout.decode())


def self_test():
    """Raw hostile text does become markup, so that the check can fail."""
    found = set()
    for text in HOSTILE:
        found |= render(text.encode()).elements - ALLOWED
    assert {"em", "code", "a", "del", "b", "ol", "blockquote", "pre", "hr",
            "img", "input"} <= found, found


def run(program, *args):
    return subprocess.run([program, "audit", "-q", "--today", "2026-06-01",
                           *args], stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE)


def sheets(program):
    said = run(program, "--sheet", "no-such-sheet-at-all", "-").stderr.decode()
    return re.findall(r"[a-z-]+", said.split("there are")[1])


def hostile_kits(folder):
    """One kit a text, each text in a title, a mark, a note."""
    for n, text in enumerate(HOSTILE):
        path = os.path.join(folder, "k%d.yaml" % n)
        bad = "'%s'" % text
        with open(path, "w") as f:
            f.write("kit:\n  id: k\n  title: %s\n  slots:\n"
                    "    - {id: S-1, tool: tommy bar, bar: 10 mm, mark: %s}\n"
                    "    - {id: S-2, tool: pliers, title: %s}\n"
                    "bench:\n  - {id: T-1, tool: tommy bar, bar: 10 mm, "
                    "mark: %s, owner: %s}\n" % (bad, bad, bad, bad, bad))
        yield [path], text


def main():
    if not shutil.which(READER[0]):
        print("markdown.py: skipped, no cmark-gfm")
        return 77
    program, pages, cells, bad = os.path.abspath(sys.argv[1]), 0, 0, []
    self_test()
    with tempfile.TemporaryDirectory() as folder:
        runs = [(sorted(glob.glob(k.replace(".kit.yaml", ".*"))), None)
                for k in sorted(glob.glob("demo/*.kit.yaml"))]
        runs += list(hostile_kits(folder))
        for files, text in runs:
            for sheet in (sheets(program) if text is None
                          else ("summary", "slots", "matches")):
                done = run(program, "--sheet", sheet, "--format", "markdown",
                           *files)
                if done.returncode == 2 and b"has no format" in done.stderr:
                    continue
                where = "%s, %s" % (text or files[0], sheet)
                if done.returncode > 1:
                    sys.exit("%s: %s" % (where, done.stderr.decode()))
                got = render(done.stdout)
                other = read(run(program, "--sheet", sheet, "--format",
                                 "html", *files).stdout.decode())
                pages += 1
                cells += len(got.cells)
                markup = got.elements - ALLOWED - ({"a"} if got.mail else set())
                if markup:
                    bad.append("%s: %s" % (where, markup))
                # one kind of sheet lists what the other puts in a drawing
                if sheet != "frontier" and got.cells != other.cells:
                    bad.append("%s: cells differ: %s" % (where, [
                        p for p in zip(got.cells, other.cells)
                        if p[0] != p[1]][:2]))
                if text and " ".join(text.split()) not in \
                        " ".join(got.all.split()):
                    bad.append("%s: the text is not there" % where)
    print("\n".join(bad[:40]), end="\n" if bad else "")
    print("markdown.py: %d sheets, %d cells read, %d faults" % (
        pages, cells, len(bad)))
    return 0 if pages > 60 and cells > 1000 and not bad else 1


if __name__ == "__main__":
    sys.exit(main())
