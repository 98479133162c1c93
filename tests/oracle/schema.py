#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""The schema against the files: schema.py TOOL

- the schema is one of draft 7 as far as its keywords go, every reference in
  it resolves, and every property says what it is for
- every demo and starter file is valid by it, and every example of the README
- every file of tests/bad that breaks a rule about keys and words is not
- a starter file loads, and no line that is commented out in it has a key or a
  word that is unknown

SOURCE json-schema: the keywords, as validate() has them; a validator of
its own, so that the tool does not judge itself.  YAML is read by PyYAML;
without it the test is passed over (exit 77).
"""
import glob
import json
import os
import re
import subprocess
import sys
import tempfile

try:
    import yaml
except ImportError:
    print("schema: PyYAML is not installed")
    sys.exit(77)

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
TOOL = os.path.abspath(sys.argv[1])
KEYWORDS = {"$schema", "$ref", "title", "description", "definitions", "type", "enum",
            "pattern", "minimum", "maximum", "minItems", "minProperties", "items",
            "properties", "additionalProperties", "required", "allOf", "anyOf", "oneOf"}
# messages about keys and words that the rows of a table can know
RULES = {"unknown-key", "missing-key", "not-a-choice", "claim-value", "wrong-type",
         "not-for-every-slot", "out-of-range"}
# what the schema does not say: a word for tools alone, keys that are needed
# only where others are, or are not, there, and numbers past a pattern beside them
BEYOND = {"mark_illegible_wanted.yaml", "offer_of_nothing.yaml", "slot_without_tool.yaml",
          "prices_currency_missing.yaml", "serial_range_past_pattern.yaml"}


class Loader(yaml.SafeLoader):
    """Dates stay text, as in YAML 1.2."""


Loader.yaml_implicit_resolvers = {
    c: [(t, r) for t, r in rows if t not in ("tag:yaml.org,2002:timestamp",)]
    for c, rows in yaml.SafeLoader.yaml_implicit_resolvers.items()}


def is_type(value, name):
    number = isinstance(value, (int, float)) and not isinstance(value, bool)
    return {"object": isinstance(value, dict), "array": isinstance(value, list),
            "string": isinstance(value, str), "boolean": isinstance(value, bool),
            "number": number, "integer": number and float(value).is_integer(),
            "null": value is None}[name]


def validate(value, schema, root, path="$"):
    """A list of what is wrong."""
    if "$ref" in schema:        # its siblings are ignored in draft 7
        target = root
        for part in schema["$ref"].lstrip("#/").split("/"):
            target = target[part]
        return validate(value, target, root, path)
    wrong = []
    if "type" in schema:
        types = schema["type"] if isinstance(schema["type"], list) else [schema["type"]]
        if not any(is_type(value, t) for t in types):
            return ["%s: not %s" % (path, "/".join(types))]
    if "enum" in schema and not any(type(e) is type(value) and e == value
                                    for e in schema["enum"]):
        wrong.append("%s: %r is none of %s" % (path, value, schema["enum"]))
    if isinstance(value, str) and not re.search(schema.get("pattern", ""), value):
        wrong.append("%s: %r does not match" % (path, value))
    if is_type(value, "number"):
        if value < schema.get("minimum", value) or value > schema.get("maximum", value):
            wrong.append("%s: %r is out of bounds" % (path, value))
    if isinstance(value, list):
        if len(value) < schema.get("minItems", 0):
            wrong.append("%s: too few items" % path)
        for i, one in enumerate(value):
            wrong += validate(one, schema.get("items", {}), root, "%s[%d]" % (path, i))
    if isinstance(value, dict):
        if len(value) < schema.get("minProperties", 0):
            wrong.append("%s: nothing in it" % path)
        wrong += ["%s: lacks %s" % (path, k) for k in schema.get("required", ())
                  if k not in value]
        for k, one in value.items():
            sub = schema.get("properties", {}).get(
                k, schema.get("additionalProperties", True))
            if sub is False:
                wrong.append("%s: no such key %r" % (path, k))
            elif sub is not True:
                wrong += validate(one, sub, root, "%s.%s" % (path, k))
    for sub in schema.get("allOf", ()):
        wrong += validate(value, sub, root, path)
    for word, good in (("anyOf", lambda n: n > 0), ("oneOf", lambda n: n == 1)):
        if word in schema:
            each = [validate(value, s, root, path) for s in schema[word]]
            if not good(sum(not e for e in each)):
                wrong.append("%s: %s: %s" % (path, word, min(each, key=len)[:1] if any(each)
                                             else "several"))
    return wrong


def run(*args, **more):
    return subprocess.run([TOOL, *args], stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                          **more)


def walk(schema, root, bad, path="#", is_property=False):
    if not isinstance(schema, dict):
        return
    if is_property and len(schema.get("description", "")) < 4:
        bad.append("%s: no description" % path)
    bad.extend("%s: keyword %s" % (path, k) for k in schema if k not in KEYWORDS)
    if "$ref" in schema:
        name = re.match(r"#/definitions/(.+)$", schema["$ref"]).group(1)
        if name not in root["definitions"]:
            bad.append("%s: no definition %s" % (path, name))
    if schema.get("type") == "object" and "properties" in schema and \
            schema.get("additionalProperties") is not False:
        bad.append("%s: further keys are allowed" % path)
    for k in ("definitions", "properties"):
        for name, sub in schema.get(k, {}).items():
            walk(sub, root, bad, "%s/%s" % (path, name), k == "properties")
    for k in ("items", "additionalProperties"):
        walk(schema.get(k), root, bad, path + "/" + k)
    for k in ("allOf", "anyOf", "oneOf"):
        for i, sub in enumerate(schema.get(k, ())):
            walk(sub, root, bad, "%s/%s%d" % (path, k, i))


def main():
    bad = []
    root = json.loads(run("schema").stdout)
    walk(root, root, bad)
    good = sorted(glob.glob(TOP + "/demo/*.yaml"))
    for path in good:
        with open(path, encoding="utf-8") as f:
            bad += ["%s: %s" % (os.path.basename(path), w) for w in
                    validate(yaml.load(f, Loader), root, root)[:5]]
    refused = 0
    for path in sorted(glob.glob(TOP + "/tests/bad/*.yaml")):
        name = os.path.basename(path)
        with open(path, "rb") as f:
            text = f.read().decode("utf-8", "replace")
        ids = set(re.findall(r"^# expect \d+:\d+ ([a-z0-9-]+)", text, flags=re.M))
        if not ids & RULES or name in BEYOND:
            continue
        try:
            value = yaml.load(text, Loader)
        except yaml.YAMLError:
            continue
        if validate(value, root, root):
            refused += 1
        else:
            bad.append("%s: valid by the schema, yet %s" % (name, ids))
    with tempfile.TemporaryDirectory() as t:
        for record in ("kit", "bench", "prices", "workshop", "machine", "rubric"):
            text = run("start", record).stdout.decode()
            bad += ["start %s: %s" % (record, w)
                    for w in validate(yaml.load(text, Loader), root, root)[:3]]
            path = "%s/%s.yaml" % (t, record)
            open(path, "w").write(text)
            p = run("check", path)
            if p.returncode or p.stderr:
                bad.append("start %s: %r" % (record, p.stderr))
            open(path, "w").write(re.sub(r"^( *)#(?=\w+:)", r"\1", text, flags=re.M))
            said = set(re.findall(rb"\[([a-z0-9-]+)\]$", run("check", path).stderr,
                                  flags=re.M))
            said -= {b"unresolved-id", b"no-such-slot", b"goes-with-cycle",
                     b"duplicate-id", b"no-rate", b"source-cycle",
                     b"other-seller"}
            if said:
                bad.append("start %s, all lines: %r" % (record, said))
    # each record by itself, and the judge itself
    for record in ("kit", "tool", "offer", "claim", "piece of damage"):
        p = run("schema", record)
        if record != "claim" and (p.returncode or not json.loads(p.stdout)["allOf"]):
            bad.append("schema %s: %r" % (record, p.stderr))
    if not validate({"bench": [{"tool": "jack", "lenght": "1 mm"}]}, root, root) or \
            validate({"bench": [{"tool": "jack", "length": "1 mm"}]}, root, root):
        bad.append("the validator does not tell good from bad")
    print("\n".join(bad) if bad else "schema: %d good files, %d refused" %
          (len(good), refused))
    return 1 if bad or not good or refused < 10 else 0


if __name__ == "__main__":
    sys.exit(main())
