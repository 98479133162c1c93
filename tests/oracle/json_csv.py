#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Read every sheet with the JSON and CSV parsers of Python.

    json_csv.py PROGRAM         PROGRAM is json_csv_oracle

SOURCE rfc-8259, rfc-7493: UTF-8 without a byte order mark, no duplicate
names, no NaN, whole numbers within 2^53.  SOURCE rfc-4180, section 2: every
record the same number of fields, lines end in CR LF.  SOURCE cwe-1236: no
text field begins as a formula.  The rows of CSV and TSV are then compared
with the first array of the JSON, cell by cell.

Exit: 0 all agree, 1 not.
"""
import csv
import io
import json
import re
import subprocess
import sys

# sheets whose JSON is not the rows of their CSV
OWN_JSON = {"ways"}
NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?\Z")


class Number(str):
    """A number as written, so that 6.40 and 6.4 differ."""


def no_duplicates(pairs):
    names = [name for name, _ in pairs]
    assert len(set(names)) == len(names), "a name twice: %s" % names
    return dict(pairs)


def refuse(word):
    raise AssertionError("not a JSON number: " + word)


def whole(text):
    assert abs(int(text)) <= 2 ** 53, text
    return Number(text)


def read_json(raw):
    text = raw.decode("utf-8")
    assert not text.startswith("\ufeff") and text.endswith("}\n")
    for mark in ("\u2028", "\u2029", "\x1b", "</script"):
        assert mark not in text, "%r in JSON" % mark
    top = json.loads(text, object_pairs_hook=no_duplicates,
                     parse_constant=refuse, parse_int=whole,
                     parse_float=Number)
    assert list(top)[:4] == ["schema_version", "program", "sheet", "currency"]
    arrays = [v for v in top.values() if isinstance(v, list)]
    assert arrays, "no array"
    for rows in arrays:
        for row in rows:
            assert list(row) == list(rows[0]), "keys differ"
    return top


def first_array(top):
    return next(v for v in top.values() if isinstance(v, list))


def cell(value):
    """What CSV should hold for a JSON value."""
    if value is None:
        return ""
    if value is True or value is False:
        return "yes" if value else "no"
    if isinstance(value, list):
        value = "; ".join(value)
    elif isinstance(value, Number):
        return str(value)
    return re.sub("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]", "\ufffd", value)


def same(field, expected, is_number):
    if not is_number and re.match(r'[ "\n]*[=+\-@\t\r]', expected):
        expected = "'" + expected
    assert field == expected, "%r is not %r" % (field, expected)
    if is_number and field:
        assert NUMBER.match(field), field
    elif field:
        assert field[0] not in "=+-@\t\r", "a formula: %r" % field


def compare(rows, json_rows, tabs):
    assert all(len(r) == len(rows[0]) for r in rows), "fields differ"
    assert len(rows) == len(json_rows) + 1, "rows differ"
    for fields, row in zip(rows[1:], json_rows):
        assert rows[0] == list(row), "columns differ"
        for field, value in zip(fields, row.values()):
            text = cell(value)
            if tabs and not isinstance(value, Number):
                text = re.sub("[\t\r\n]", " ", text)
            same(field, text, isinstance(value, Number))


def read_lines(raw):
    """The rows of JSON Lines by table.  SOURCE jsonlines: UTF-8 without a byte
    order mark, a value a line, a line feed after each, no empty line."""
    text = raw.decode("utf-8")
    assert not text.startswith("\ufeff") and (not text or text[-1] == "\n")
    tables = {}
    for line in text.split("\n")[:-1]:
        row = json.loads(line, object_pairs_hook=no_duplicates,
                         parse_constant=refuse, parse_int=whole,
                         parse_float=Number)
        head = {k: row.pop(k) for k in ("schema_version", "sheet", "table",
                                        "currency")}
        assert "kit" in row, "a row without a kit"
        tables.setdefault(head["table"], []).append((head, row))
    return tables


def compare_lines(sheet, lines, top):
    """Each row of each array, with what the lines say besides."""
    arrays = {k: v for k, v in top.items() if isinstance(v, list) and v}
    assert set(lines) == set(arrays), "tables differ"
    for key, rows in arrays.items():
        assert len(rows) == len(lines[key]), "rows differ"
        for row, (head, line) in zip(rows, lines[key]):
            assert head["sheet"] == sheet and head["table"] == key
            assert head["currency"] == top["currency"]
            assert all(line[k] == v for k, v in row.items()), "values differ"
            assert set(line) - set(row) <= {"kit"}, "more than the row"


def main():
    program = sys.argv[1]

    def run(*args):
        return subprocess.run([program, *args], check=True,
                              stdout=subprocess.PIPE).stdout

    pairs = [line.split() for line in run().decode().splitlines()]
    sheets = sorted({sheet for sheet, form in pairs if form == "json"})
    assert sheets, "no sheet"
    compared = 0
    for sheet in sheets:
        top = read_json(run(sheet, "json"))
        lines = read_lines(run(sheet, "jsonl"))
        if sheet in OWN_JSON:
            continue
        compare_lines(sheet, lines, top)
        rows = first_array(top)
        raw = run(sheet, "csv").decode("utf-8")
        bare = re.sub(r'"[^"]*"', "", raw)
        assert bare.count("\n") == bare.count("\r\n"), "LF without CR"
        compare(list(csv.reader(io.StringIO(raw, newline=""), strict=True)),
                rows, False)
        raw = run(sheet, "tsv").decode("utf-8")
        assert "\r" not in raw and raw.endswith("\n")
        compare([line.split("\t") for line in raw[:-1].split("\n")], rows,
                True)
        compared += len(rows)
    assert compared, "no row"
    print("json_csv.py: %d sheets, %d rows read alike" %
          (len(sheets), compared))


try:
    main()
except AssertionError as wrong:
    print("json_csv.py:", wrong)
    sys.exit(1)
