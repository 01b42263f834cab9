#!/usr/bin/env python3
"""Writes small instances and the best timetables that exist for them, proved by the solver.

    golden.py FOLDER CHECKER [SECONDS]

FOLDER gets `instances/` and `optima.json`; CHECKER is the independent checker of timetables, a Python file with a
function `check(instance, timetable)`. Each instance is solved twice, with and without the rule that the next exercise
starts as soon as it can, SECONDS (60) at most each. What is not proved, or not accepted, is named and left out.
"""

import importlib.metadata
import importlib.util
import json
import sys
from pathlib import Path

import generate
from model import Model, solve


def checker_of(path):
    spec = importlib.util.spec_from_file_location("checker", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def solved(instance, checker, seconds):
    """The entry for one instance, or why there is none."""
    status, objective, _, timetable = solve(Model(instance), seconds)
    if status != "optimal":
        return None, status
    said = checker.check(instance, timetable)
    if not said["ok"] or said["objective"] != objective:
        return None, f"the checker says {said['objective']}, not {objective}: {said['errors']}"
    status, relaxed, _, loose = solve(Model(instance, as_soon_as_it_can=False), seconds)
    if status != "optimal" or relaxed > objective:
        return None, f"without as soon as it can: {status}, {relaxed}"
    if relaxed < objective and checker.check(instance, loose)["ok"]:
        return None, f"the checker accepts {relaxed}, below {objective}"
    return {"objective": objective, "relaxed": relaxed, "timetable": timetable}, None


def main():
    if len(sys.argv) not in (3, 4):
        print(__doc__, file=sys.stderr)
        return 2
    folder, checker = Path(sys.argv[1]), checker_of(sys.argv[2])
    seconds = float(sys.argv[3]) if len(sys.argv) == 4 else 60.0
    (folder / "instances").mkdir(parents=True, exist_ok=True)
    optima = {}
    for number in range(len(generate.RECIPES)):
        instance = generate.instance(number)
        entry, why = solved(instance, checker, seconds)
        name = instance["name"]
        print(name, why or f"{entry['objective']} {entry['relaxed']}", flush=True)
        if entry:
            optima[name] = entry
            text = json.dumps(instance, separators=(",", ":"))
            (folder / "instances" / f"{name}.json").write_text(text + "\n", encoding="utf-8")
    about = (
        "objective: the least there is, proved by the solver with every rule; timetable: one that has it, accepted by "
        "the independent checker. relaxed: the least without the rule that the next exercise starts as soon as it can, "
        "proved too."
    )
    solver = {"name": "OR-Tools CP-SAT", "version": importlib.metadata.version("ortools")}
    rows = ",\n".join(f"  {json.dumps(name)}: {json.dumps(entry, separators=(',', ':'))}" for name, entry in optima.items())
    text = f'{{\n "about": {json.dumps(about)},\n "solver": {json.dumps(solver)},\n "optima": {{\n{rows}\n }}\n}}\n'
    (folder / "optima.json").write_text(text, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
