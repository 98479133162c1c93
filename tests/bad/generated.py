#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Run bad inputs through the tool and compare what it says of them.

    generated.py TOOL [--no-limits]

Two kinds: the files beside this script, whose first lines say
`# expect LINE:COL id`, and inputs that cannot be kept as files (too large,
empty, not UTF-8), made here.  Each runs as `TOOL check FILE` and must end
with status 2, an empty standard output, exactly the expected messages, within
1 s and 64 MiB; a good input must end with status 0 and no message.
--no-limits leaves out time and memory, for builds with sanitizers.

No source is needed for the expectations: places are counted by hand in the
bytes that are written here.
"""
import os
import re
import sys
import tempfile
import time

SECONDS = 1.0
KIB = 64 * 1024
MESSAGE = re.compile(rb"^(?:.*):(\d+):(\d+): (?:error|warning): .*"
                     rb" \[([a-z0-9-]+)\]$")
HERE = os.path.dirname(os.path.abspath(__file__))

GOOD = b"bench:\n  - id: T-1\n    tool: combination pliers\n"
BOM = b"\xef\xbb\xbf"
MIB = 1 << 20


def mark(value):
    """A fourth line; the value begins in column 11."""
    return [GOOD + b"    mark: " + value + b"\n"]


def many(n, line):
    """Lines made by a function of their number, in pieces."""
    for i in range(0, n, 1000):
        yield b"".join(line(k) for k in range(i, min(n, i + 1000)))


def repeat(text, times):
    step = max(1, MIB // len(text))
    while times:
        k = min(step, times)
        yield text * k
        times -= k


def chain(*parts):
    for part in parts:
        yield from [part] if isinstance(part, bytes) else part


def utf(text, encoding):
    return [text.decode("ascii").encode(encoding)]


# name, pieces of the input, expected messages
CASES = [
    ("empty", [b""], ["1:1 empty-file"]),
    ("only a comment", [b"# only comment\n"], ["1:1 empty-file"]),
    ("only a blank line", [b"\n"], ["1:1 empty-file"]),

    # nesting: the map of the file is level 1, so the 64th bracket is 65
    ("brackets to level 64", [b"zzz: " + b"[" * 63 + b"]" * 63 + b"\n"],
     ["1:1 unknown-key"]),
    ("brackets to level 65", [b"zzz: " + b"[" * 64 + b"]" * 64 + b"\n"],
     ["1:69 too-deep"]),
    ("40000 brackets", [b"bench: " + b"[" * 40000], ["1:71 too-deep"]),
    ("20000 braces", [b"bench: " + b"{a: " * 20000 + b"}" * 20000],
     ["1:260 too-deep"]),
    ("20000 dashes", [b"bench:\n" + b"- " * 20000 + b"x\n"],
     ["2:127 too-deep"]),
    ("20000 question marks", [b"? " * 20000 + b"x\n"],
     ["1:3 key-not-text"]),
    ("250 kB of brackets and braces", [b"bench: " + b'[{"a":' * 41000],
     # the 32nd brace is level 65: columns of six, brace the second
     ["1:%d too-deep" % (7 + 31 * 6 + 2)]),

    # amounts
    ("80000 anchors",
     chain(b"bench:\n", many(80000, lambda k: b"- &a%d x\n" % k)),
     ["2:3 anchor"]),
    ("20000 tag directives",
     chain(many(20000, lambda k: b"%%TAG !t%d! tag:t,2000:\n" % k),
           b"---\nbench: []\n"), ["1:1 directive"]),
    ("directives behind the end",
     chain(GOOD, b"...\n",
           many(20000, lambda k: b"%%TAG !t%d! tag:t,2000:\n" % k)),
     ["5:1 directive"]),
    ("50 MB plain text", chain(b"bench: ", repeat(b"x", 50000000), b"\n"),
     ["1:1 item-too-long"]),
    ("50 MB quoted text",
     chain(b'bench: "', repeat(b"x", 50000000), b'"\n'),
     ["1:1 item-too-long"]),
    ("20 M blank lines", chain(b"bench: |\n", repeat(b"\n", 20000000)),
     ["1:1 item-too-long"]),
    ("20 MB of comments", chain(repeat(b"# xxxxxxx\n", 2000000), GOOD),
     ["1:1 item-too-long"]),
    ("20 M blanks", chain(repeat(b" ", 20000000), b"bench: []\n"),
     ["1:1 item-too-long"]),
    ("7 MiB of comments", chain(repeat(b"# xxxxxxxxxxxxx\n", 7 * MIB // 16),
                                GOOD), []),
    ("key of 64 characters", [b"k" * 64 + b": 1\n"], ["1:1 unknown-key"]),
    ("key of 1024 characters", [b"k" * 1024 + b": 1\n"], ["1:1 long-key"]),
    ("key of 1025 characters", [b"k" * 1025 + b": 1\n"],
     ["1:1 long-key"]),
    ("second key of 1025 characters", [b"bench: []\n" + b"k" * 1025 +
                                       b": 1\n"], ["2:1 long-key"]),
    ("inner key of 1025 characters", [b"zzz:\n  " + b"k" * 1025 + b": 1\n"],
     ["2:1028 long-key"]),
    ("a million keys", many(1000000, lambda k: b"k%d: 1\n" % k),
     ["%d:1 unknown-key" % k for k in range(1, 21)] +
     ["10001:1 too-many-keys"]),
    ("a million keys inside", chain(
        GOOD, b"    extra:\n", many(1000000, lambda k: b"      k%d: 1\n" % k)),
     ["10005:7 too-many-keys"]),
    ("note of 65536 bytes",
     [GOOD + b"    note: " + b"x" * 65536 + b"\n"], []),
    ("note of 65537 bytes",
     [GOOD + b"    note: " + b"x" * 65537 + b"\n"], ["4:11 long-text"]),

    # characters
    ("NUL", [b"bench: b\0c\n"], ["1:9 control-character"]),
    ("NUL only", [b"\0" * 100000], ["1:1 control-character"]),
    ("ESC", mark(b"A\x1b[31m"), ["4:12 control-character"]),
    ("DEL", mark(b"A\x7f"), ["4:12 control-character"]),
    ("U+0080", mark(b"A\xc2\x80"), ["4:12 control-character"]),
    ("U+FFFF", mark(b"A\xef\xbf\xbf"), ["4:12 control-character"]),
    ("NEL", mark(b"A\xc2\x85    made: original"), ["4:12 line-separator"]),
    ("LS", mark(b"A\xe2\x80\xa8    made: original"),
     ["4:12 line-separator"]),
    ("PS", mark(b"A\xe2\x80\xa9    made: original"),
     ["4:12 line-separator"]),
    ("column counts characters", mark(b"\xc3\xa9\xe2\x82\xac\x1b"),
     ["4:13 control-character"]),

    # rows without id that differ in quotes alone: none is no mark, "none" is
    # a mark that reads so
    ("rows that differ in quotes",
     [b"bench:\n"] + [b"  - {tool: combination pliers, mark: %s}\n" % text
                      for text in (b"none", b'"none"', b"unknown", b'"unknown"',
                                   b"illegible", b'"illegible"')], []),

    # UTF-8
    ("lone continuation byte", mark(b"\x80"), ["4:11 not-utf8"]),
    ("overlong", mark(b"\xc0\xaf"), ["4:11 not-utf8"]),
    ("overlong of three", mark(b"\xe0\x80\xaf"), ["4:11 not-utf8"]),
    ("surrogate", mark(b"\xed\xa0\x80"), ["4:11 not-utf8"]),
    ("beyond U+10FFFF", mark(b"\xf4\x90\x80\x80"), ["4:11 not-utf8"]),
    ("byte 0xff", mark(b"\xff"), ["4:11 not-utf8"]),
    ("cut off at the end", [GOOD + b"    mark: A\xe2\x82"],
     ["4:12 not-utf8"]),
    ("Latin-1", mark(b"caf\xe9"), ["4:14 not-utf8"]),
    ("Latin-1 on the first line", [b"# \xe9\n" + GOOD], ["1:3 not-utf8"]),

    # byte order marks and other encodings
    ("mark of UTF-8", [BOM + GOOD], []),
    ("mark of UTF-8 moves no column", [BOM + b"bench: a: b\n"],
     ["1:9 stray-colon"]),
    ("mark twice", [BOM + BOM + GOOD], ["1:1 stray-bom"]),
    ("mark in the middle", mark(BOM + b"A"), ["4:11 stray-bom"]),
    ("UTF-16 LE with mark", utf(GOOD, "utf-16"), ["1:1 utf-16"]),
    ("UTF-16 BE with mark", [b"\xfe\xff" + GOOD.decode().encode("utf-16-be")],
     ["1:1 utf-16"]),
    ("UTF-16 LE", utf(GOOD, "utf-16-le"), ["1:1 utf-16"]),
    ("UTF-16 BE", utf(GOOD, "utf-16-be"), ["1:1 utf-16"]),
    ("UTF-32 LE with mark", utf(GOOD, "utf-32"), ["1:1 utf-16"]),
    ("UTF-32 LE", utf(GOOD, "utf-32-le"), ["1:1 utf-16"]),
    ("UTF-32 BE", utf(GOOD, "utf-32-be"), ["1:1 utf-16"]),
    ("UTF-16, odd length", [utf(GOOD, "utf-16")[0] + b"x"], ["1:1 utf-16"]),
    ("UTF-16, lone surrogate", [b"\xff\xfea\0\0\xdc"], ["1:1 utf-16"]),

    # ends of lines
    ("CR LF", [GOOD.replace(b"\n", b"\r\n")], []),
    ("CR", [GOOD.replace(b"\n", b"\r")], []),
    ("place after CR LF", [mark(b"#14")[0].replace(b"\n", b"\r\n")],
     ["4:10 empty-value"]),
    ("place after CR", [mark(b"#14")[0].replace(b"\n", b"\r")],
     ["4:10 empty-value"]),
    ("byte after CR LF", [mark(b"\x80")[0].replace(b"\n", b"\r\n")],
     ["4:11 not-utf8"]),
    ("byte after CR", [mark(b"\x80")[0].replace(b"\n", b"\r")],
     ["4:11 not-utf8"]),
]


def long_file():
    """257 MiB: tools of one line, with 7 MiB of comments before each."""
    yield b"bench:\n"
    for k in range(37):
        yield from repeat(b"#" * 15 + b"\n", 7 * MIB // 16)
        yield b"  - {id: T-%d, tool: combination pliers}\n" % k


def long_file_ends():
    """Line and column of the first byte past 256 MiB."""
    left, line = 256 * MIB - len(b"bench:\n"), 2
    for k in range(37):
        if left < 7 * MIB:
            break
        left -= 7 * MIB
        left -= len(b"  - {id: T-%d, tool: combination pliers}\n" % k)
        line += 7 * MIB // 16 + 1
    return "%d:%d %s" % (line + left // 16, left % 16 + 1, "file-too-large")


# slower or larger than the others may be: seconds, KiB
SLOW = [
    ("a file of 257 MiB", long_file(), [long_file_ends()], 20, KIB),
    # the key and the list are two, so the letter in excess is no. 3999999
    ("an entry of 4000001 nodes",
     chain(b"rubric: [", repeat(b"a,", 4000000), b"]\n"),
     ["1:%d %s" % (10 + 2 * 3999998, "entry-too-large")], 10, 8 * KIB),
]


def run(tool, path, folder):
    """status, stdout, stderr, seconds, KiB of one run"""
    files = [os.path.join(folder, name) for name in ("out", "err")]
    flags = os.O_WRONLY | os.O_CREAT | os.O_TRUNC
    actions = [(os.POSIX_SPAWN_OPEN, fd + 1, files[fd], flags, 0o600)
               for fd in (0, 1)]
    begun = time.monotonic()
    pid = os.posix_spawn(tool, [tool, "check", path], os.environ,
                         file_actions=actions)
    _, status, used = os.wait4(pid, 0)
    seconds = time.monotonic() - begun
    texts = []
    for name in files:
        with open(name, "rb") as f:
            texts.append(f.read())
    return (os.waitstatus_to_exitcode(status), texts[0], texts[1], seconds,
            used.ru_maxrss)


def judge(expected, result, limits, most_seconds=SECONDS, most_kib=KIB):
    """What is wrong with a result, as a list of sentences."""
    status, out, err, seconds, kib = result
    wrong = []
    said = sorted(b"%s:%s %s" % m.groups() for m in
                  map(MESSAGE.match, err.split(b"\n")) if m)
    wanted = sorted(e.encode() for e in expected)
    if said != wanted:
        wrong.append("said %s, expected %s" % (
            b", ".join(said[:5]).decode(), b", ".join(wanted[:5]).decode()))
    if status != (2 if expected else 0):
        wrong.append("status %d" % status)
    if expected and out:
        wrong.append("wrote to standard output")
    if re.search(rb"[\x00-\x09\x0b-\x1f\x7f]", err):
        wrong.append("wrote a control character")
    if limits and seconds > most_seconds:
        wrong.append("took %.2f s" % seconds)
    if limits and kib > most_kib:
        wrong.append("took %d KiB" % kib)
    return wrong


def kept_files():
    for name in sorted(os.listdir(HERE)):
        path = os.path.join(HERE, name)
        if not name.endswith((".yaml", ".csv")):
            continue
        expected = []
        with open(path, "rb") as f:
            for line in f:
                words = line.decode("utf-8", "replace").split()
                if words[:2] != ["#", "expect"]:
                    break
                expected.append(" ".join(words[2:]))
        yield name, path, expected


def main():
    if len(sys.argv) < 2:
        sys.exit("usage: generated.py TOOL [--no-limits]")
    tool = os.path.abspath(sys.argv[1])
    limits = "--no-limits" not in sys.argv[2:]
    passed = failed = 0

    def count(name, wrong):
        nonlocal passed, failed
        if wrong:
            failed += 1
            print("not ok - %s: %s" % (name, "; ".join(wrong)))
        else:
            passed += 1

    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "input.yaml")
        for name, pieces, expected in CASES:
            with open(path, "wb") as f:
                for piece in pieces:
                    f.write(piece)
            count(name, judge(expected, run(tool, path, folder), limits))
        for name, pieces, expected, seconds, kib in SLOW:
            with open(path, "wb") as f:
                for piece in pieces:
                    f.write(piece)
            count(name, judge(expected, run(tool, path, folder), limits,
                              seconds, kib))
        # a folder gives no bytes and no place, and another status
        status, out, err, _, _ = run(tool, folder, folder)
        told = "[%s]" % "cannot-read" in err.decode()
        count("a folder", [] if status == 3 and not out and told
              else ["status %d, said %r" % (status, err)])
        for name, kept, expected in kept_files():
            wrong = judge(expected, run(tool, kept, folder), limits)
            if not expected:
                wrong.append("expects nothing")
            count(name, wrong)
        # the judge itself: a good file is not one with a mistake
        with open(path, "wb") as f:
            f.write(GOOD)
        fair = judge(["1:1 no-such-id"], run(tool, path, folder), limits)
        count("a wrong expectation is noticed",
              [] if len(fair) >= 2 else ["it was not"])
    print("%d passed, %d failed" % (passed, failed))
    sys.exit(1 if failed or passed < 100 else 0)


main()
