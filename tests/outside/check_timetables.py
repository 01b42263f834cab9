#!/usr/bin/env python3
"""Prints what the published checker says of many instances and timetables, in one process.

    check_timetables.py CHECKER.py CASES.jsonl

A case is one line, {"instance": ...} or {"timetable": ...}, the latter a timetable of the instance before it. One
JSON object a line is printed for each: {"errors"} of an instance, and of a timetable what the checker returns, with
the breaches it found under "found".
"""

import importlib.util
import json
import sys


def checker(path):
    spec = importlib.util.spec_from_file_location("checker", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def errors(published, instance):
    try:
        return published.instance_shape(instance)
    except Exception as error:
        # It stumbles over some documents that it refuses anyway, such as a list in the place of a number.
        return [f"raised {error!r}"]


def main():
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    published = checker(sys.argv[1])
    instance = None
    with open(sys.argv[2], encoding="utf-8") as cases:
        for line in cases:
            case = json.loads(line)
            if "instance" in case:
                instance = case["instance"]
                said = {"errors": errors(published, instance)}
            else:
                found = []
                said = published.check(instance, case["timetable"], found)
                said["found"] = found
            print(json.dumps(said))


if __name__ == "__main__":
    main()
