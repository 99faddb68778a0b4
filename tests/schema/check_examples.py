#!/usr/bin/env python3
"""Holds a JSON Schema against examples that it must take or refuse.

usage: check_examples.py SCHEMA EXAMPLES [FILE...]

EXAMPLES has the lists `good`, `bad` (objects with `profile` and `path`) and `bad_beyond_the_schema`; the files
must all be good (lines that begin with // are comments). The path of a fault is where the schema's nearest complaint points, as `limits.shell_min_in`.
"""
import json
import re
import sys

from jsonschema import Draft202012Validator


def path_of(error):
    return ".".join(str(part) for part in error.absolute_path) or "(top level)"


def paths(error):
    """Where an error and those that it is made of point."""
    found = {path_of(error)}
    for inner in error.context or []:
        found |= paths(inner)
    return found


def main(schema_file, examples_file, *files):
    with open(schema_file, encoding="utf-8") as f:
        schema = json.load(f)
    with open(examples_file, encoding="utf-8") as f:
        examples = json.load(f)
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema)
    faults = []

    good = list(examples["good"]) + [e["profile"] for e in examples["bad_beyond_the_schema"]]
    for name in files:
        with open(name, encoding="utf-8") as f:
            good.append(json.loads(re.sub(r"^\s*//.*$", "", f.read(), flags=re.M)))
    for document in good:
        for error in validator.iter_errors(document):
            faults.append(f"refused: {json.dumps(document)}: {path_of(error)}: {error.message}")
    for example in examples["bad"]:
        found = set()
        for error in validator.iter_errors(example["profile"]):
            found |= paths(error)
        if example["path"] not in found:
            faults.append(f"not refused at {example['path']}: {json.dumps(example['profile'])}: {found or 'taken'}")

    print("\n".join(faults) or f"{len(good)} taken, {len(examples['bad'])} refused")
    return 1 if faults else 0


if __name__ == "__main__":
    if len(sys.argv) < 3:
        sys.exit(__doc__)
    sys.exit(main(*sys.argv[1:]))
