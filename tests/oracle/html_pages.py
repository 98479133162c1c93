#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Read every html sheet with parsers that are not of this project.

    html_pages.py PROGRAM                 PROGRAM is kitmuster

Every sheet that has html, of the three demo machines and of one whose texts
are hostile, must be such that
- `tidy` finds neither error nor warning, once drawings are cut out (it knows
  no SVG), and each drawing is XML;
- headings begin with the one h1 and skip no level, tables have a caption and
  header cells with a scope, ids are there once, links and references lead to
  them, there is a language, a title and a policy that fetches nothing;
- there is no element that acts or fetches, no handler, no address outside;
- each drawing has a name and a description, or stands beside a word;
- each colour of text has a contrast of 4.5 or more with each background, and
  each border 3 or more with it;
- hostile text comes out as it went in, as text.

SOURCE wcag-2.2: success criteria 1.1.1, 1.3.1, 1.4.1, 1.4.3, 1.4.11, 2.4.2,
3.1.1, and its definitions of relative luminance and contrast ratio, from
memory: white and black have 21.  SOURCE html: what may stand where, as read
by html.parser and SOURCE tidy.

Exit: 0 all good, 1 not.
"""
import glob
import html.parser
import os
import re
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree

PLAIN = set("html head meta title style body main nav h1 h2 h3 p a strong ol "
            "ul li table caption thead tbody tr th td br pre div".split())
DRAWN = set("svg g path rect circle line text title desc style".split())
VOID = {"meta", "br"}
POLICY = "default-src 'none'; style-src 'unsafe-inline'"
HOSTILE = "<script>alert(1)</script>&amp;\"' onload=x </style></title>"
KIT = """\
kit:
  id: bad
  title: %(bad)s
  slots:
    - {id: S-01, tool: tommy bar, bar: 10 mm, length: 125 mm, mark: %(bad)s}
    - {id: S-02, tool: pliers, length: 160 mm, title: %(bad)s}
bench:
  - {id: T-01, tool: tommy bar, bar: 10 mm, length: 125 mm, mark: %(bad)s}
  - {id: T-02, tool: pliers, length: 160 mm, owner: %(bad)s, note: %(bad)s}
"""


class Page(html.parser.HTMLParser):
    """What is wrong with a page, and its text."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.bad, self.open, self.ids, self.refs = [], [], [], []
        self.levels, self.text, self.css = [], [], ""
        self.policy = self.lang = False
        self.table = self.svg = self.shape = None
        self.page_title = self.heading = self.cell = ""

    def say(self, text):
        self.bad.append("line %d: %s" % (self.getpos()[0], text))

    def handle_decl(self, decl):
        if decl.lower() != "doctype html":
            self.say("another document type: " + decl)

    def unknown_decl(self, data):
        self.say("a marked section")

    def handle_comment(self, data):
        self.say("a comment")

    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.handle_endtag(tag)

    def handle_starttag(self, tag, attrs):
        inside = "svg" in self.open
        if tag not in (DRAWN if inside or tag == "svg" else PLAIN):
            self.say("an element <%s>" % tag)
        names = [n for n, _ in attrs]
        attrs = dict(attrs)
        if len(attrs) != len(names):
            self.say("an attribute twice in <%s>" % tag)
        for name, value in attrs.items():
            self.attribute(tag, name, value or "")
        if tag not in VOID:
            self.open.append(tag)
        self.structure(tag, attrs)

    def attribute(self, tag, name, value):
        if name.startswith("on") or name in ("src", "style", "srcset", "action",
                                             "xlink:href"):
            self.say("%s=%r in <%s>" % (name, value, tag))
        if name == "href":
            if not value.startswith("#"):
                self.say("a link to %r" % value)
            self.refs.append(value[1:])
        if name in ("aria-labelledby", "aria-describedby"):
            self.refs += value.split()
        if name == "id":
            self.ids.append(value)
        if "://" in value and name != "xmlns":
            self.say("an address: %r" % value)

    def structure(self, tag, attrs):
        if tag == "html":
            self.lang = bool(attrs.get("lang"))
        if tag == "meta" and "http-equiv" in attrs:
            self.policy = attrs.get("content") == POLICY
            if attrs["http-equiv"] != "Content-Security-Policy":
                self.say("http-equiv=%r" % attrs["http-equiv"])
        if re.fullmatch("h[1-6]", tag):
            level = int(tag[1])
            if level > (self.levels[-1] if self.levels else 0) + 1:
                self.say("<%s> skips a level" % tag)
            self.levels.append(level)
            self.heading = ""
        if tag == "table":
            if self.table:
                self.say("a table within a table")
            self.table = {"caption": "", "columns": 0, "rows": 0}
        if tag == "caption" and self.open[-2] != "table":
            self.say("a caption elsewhere")
        if tag == "th":
            self.cell = ""
            scope = attrs.get("scope")
            place = "col" if "thead" in self.open else None
            if scope not in (("col",) if place else ("row", "rowgroup")):
                self.say("a header cell of scope %s" % scope)
            self.table["columns"] += place == "col"
            self.table["rows"] += scope == "row"
        if tag == "svg":
            self.start_svg(attrs)

    def start_svg(self, attrs):
        if self.open.count("svg") > 1:
            return
        self.shape = attrs.get("aria-hidden") == "true"
        if not self.shape and attrs.get("role") != "img":
            self.say("a drawing without a role")
        self.svg = {"title": "", "desc": ""}

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.say("</%s> closes something else" % tag)
            return
        if re.fullmatch("h[1-6]", tag) and not self.heading.strip():
            self.say("an empty heading")
        if tag == "table":
            if not self.table["caption"].strip():
                self.say("a table without a caption")
            if not self.table["columns"]:
                self.say("a table without names of columns")
            if not self.table["rows"]:
                self.say("a table without names of rows")
            self.table = None
        if tag == "svg" and "svg" not in self.open:
            if not self.shape and not all(self.svg.values()):
                self.say("a drawing without title or description")
            if self.shape:
                self.shape = "wants a word"
        if tag == "th" and not self.cell.strip():
            self.say("an empty header cell")
        if tag in ("td", "th") and self.shape == "wants a word":
            self.say("a shape without a word")

    def handle_data(self, data):
        where = self.open[-1] if self.open else ""
        if where == "style":
            self.css += data
            return
        if self.shape == "wants a word" and data.strip():
            self.shape = None
        if self.svg is not None and where in self.svg and "svg" in self.open \
                and self.open.count("svg") == 1:
            self.svg[where] += data
        elif where == "title":
            self.page_title += data
        self.cell += data
        if where == "caption":
            self.table["caption"] += data
        if re.fullmatch("h[1-6]", where):
            self.heading += data
        self.text.append(data)

    def end(self):
        if self.open:
            self.say("never closed: %s" % self.open)
        if self.levels.count(1) != 1 or self.levels[:1] != [1]:
            self.say("not one h1 in front: %s" % self.levels)
        for name in set(self.ids):
            if self.ids.count(name) > 1:
                self.say("the id %s is there twice" % name)
        for name in self.refs:
            if name not in self.ids:
                self.say("nothing has the id %s" % name)
        for what, good in (("title", self.page_title.strip()),
                           ("language", self.lang), ("policy", self.policy)):
            if not good:
                self.say("no " + what)
        self.bad += colours(self.css)


def luminance(colour):
    """SOURCE wcag-2.2, relative luminance."""
    def linear(byte):
        c = byte / 255
        return c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4
    if len(colour) == 4:
        colour = "#" + "".join(c * 2 for c in colour[1:])
    r, g, b = (linear(int(colour[i:i + 2], 16)) for i in (1, 3, 5))
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one, other):
    """SOURCE wcag-2.2, contrast ratio."""
    a, b = sorted((luminance(one), luminance(other)))
    return (b + 0.05) / (a + 0.05)


def colours(css):
    """Whatever text stands on whatever background."""
    bad = ["the style sheet fetches: " + m
           for m in re.findall(r"url\(|@import|image-set", css)]
    hue = r"(#[0-9a-f]{3,6})\b"
    texts = re.findall(r"(?<![\w-])color:" + hue, css)
    grounds = re.findall(r"background(?:-color)?:" + hue, css)
    borders = re.findall(r"border[\w-]*:[\w. ]*" + hue, css)
    if not texts or not grounds:
        return bad + ["no colours found"]
    known = len(re.findall(r"#[0-9a-fA-F]{3,8}\b", css))
    if known != len(texts) + len(grounds) + len(borders):
        bad.append("a colour that is not checked")
    for ground in grounds:
        bad += ["text %s on %s has a contrast of %.2f" % (t, ground,
                                                          contrast(t, ground))
                for t in texts if contrast(t, ground) < 4.5]
        bad += ["a border %s on %s has a contrast of %.2f"
                % (b, ground, contrast(b, ground))
                for b in borders if contrast(b, ground) < 3]
    return bad


def drawings(text):
    """The outermost drawings, and the text without them."""
    out, rest, depth, start = [], [], 0, 0
    last = 0
    for m in re.finditer(r"<svg\b|</svg>", text):
        if m.group() == "<svg":
            if depth == 0:
                start = m.start()
                rest.append(text[last:start])
            depth += 1
        else:
            depth -= 1
            if depth == 0:
                out.append(text[start:m.end()])
                last = m.end()
    return out, "".join(rest) + text[last:]


def xml_faults(text):
    for one in drawings(text)[0]:
        try:
            xml.etree.ElementTree.fromstring(one)
        except xml.etree.ElementTree.ParseError as wrong:
            yield "a drawing is no XML: %s" % wrong


def tidy_faults(text):
    if not shutil.which("tidy"):
        return []
    # empty cells are meant to be empty
    done = subprocess.run(["tidy", "-q", "-e", "-utf8", "--drop-empty-elements",
                           "no", "--mute-id", "yes"],
                          input=drawings(text)[1].encode(),
                          stderr=subprocess.PIPE)
    return ["tidy: " + line for line in done.stderr.decode().splitlines()]


def faults(text):
    page = Page()
    page.feed(text)
    page.close()
    page.end()
    return page, page.bad + list(xml_faults(text)) + tidy_faults(text)


GOOD = """<!DOCTYPE html>
<html lang="en-GB"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="%s">
<title>t</title><style>
body{color:#000;background:#fff}th{border:1px solid #767676}
</style></head><body><main>
<h1>one</h1><h2 id="x">two</h2><p><a href="#x">up</a></p>
<table><caption>c</caption><thead><tr><th scope="col">k</th></tr></thead>
<tbody><tr><th scope="row"><svg aria-hidden="true"><path d="M0 0"/></svg>w</th>
</tr></tbody></table>
<svg role="img"><title>t</title><desc>d</desc></svg>
</main></body></html>
""" % POLICY
SPOILT = [              # (what is there, what is there instead)
    (' lang="en-GB"', ""), ("<title>t</title><style>", "<style>"),
    ("style-src", "script-src"), ("<h2 id", "<h3 id"),
    ("<h1>one</h1>", ""), ("<caption>c</caption>", ""),
    (' scope="col"', ""), ('scope="row"', 'scope="col"'),
    ('href="#x"', 'href="#y"'), ('href="#x"', 'href="https://a.example/"'),
    ("<p>", '<p id="x">'), ("<p>", '<p onclick="a()">'),
    ("<p>", "<p><script>a()</script>"), ("<p>", '<p style="top:0">'),
    ("</svg>w", "</svg>"), (">k</th>", "></th>"), ("<desc>d</desc>", ""), ('"img"', '"none"'),
    ("#000", "#777"), ("#767676", "#999999"), ("<main>", "<main><div>"),
    ("color:#000", "color:#000;background-image:url(x)"),
    ("<desc>d</desc>", "<desc>d"), ("</p>", "</p><li>x</li>"),
]


def self_test():
    """The good page is good, each spoilt one is not."""
    assert round(contrast("#fff", "#000"), 6) == 21
    assert not faults(GOOD)[1], faults(GOOD)[1]
    for old, new in SPOILT:
        assert old in GOOD, old
        if not faults(GOOD.replace(old, new, 1))[1]:
            sys.exit("html_pages.py: found nothing wrong with %r for %r" % (new, old))


def run(program, *args):
    return subprocess.run([program, "audit", "-q", "--today", "2026-06-01",
                           *args], stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE)


def sheets(program):
    said = run(program, "--sheet", "no-such-sheet-at-all", "-").stderr.decode()
    return re.findall(r"[a-z-]+", said.split("there are")[1])


def main():
    program, read, bad = os.path.abspath(sys.argv[1]), 0, []
    self_test()
    with tempfile.TemporaryDirectory() as folder:
        hostile = os.path.join(folder, "bad.yaml")
        with open(hostile, "w") as f:
            f.write(KIT % {"bad": "'%s'" % HOSTILE.replace("'", "''")})
        runs = [[hostile]] + [
            sorted(glob.glob(k.replace(".kit.yaml", ".*")))
            for k in sorted(glob.glob("demo/*.kit.yaml"))]
        for files in runs:
            for sheet in sheets(program):
                done = run(program, "--sheet", sheet, "--format", "html",
                           *files)
                if done.returncode == 2 and b"has no format" in done.stderr:
                    continue
                where = "%s, %s" % (os.path.basename(files[0]), sheet)
                if done.returncode > 1:
                    bad.append("%s: exit %d" % (where, done.returncode))
                    continue
                text = done.stdout.decode("utf-8")
                page, found = faults(text)
                bad += ["%s: %s" % (where, f) for f in found]
                if files == [hostile] and sheet != "size-strip" and HOSTILE not in "".join(
                        page.text).replace("\n", " ") and \
                        HOSTILE not in page.page_title:
                    bad.append("%s: the hostile title is not there" % where)
                read += 1
    print("\n".join(bad[:40]), end="\n" if bad else "")
    print("html_pages.py: %d pages read, %d faults%s" % (
        read, len(bad), "" if shutil.which("tidy") else ", no tidy"))
    return 0 if read >= 4 * 12 and not bad else 1


if __name__ == "__main__":
    sys.exit(main())
