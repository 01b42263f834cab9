#!/usr/bin/env python3
"""Prints how good a timetable the CP solver has after so many seconds: a table to lay beside our planner's.

    anytime.py [--relaxed] [--limits 0.1,1,10,45] INSTANCE...

One JSON object an instance: {"name", "turns", "build_s", "workers", "solver", "at": [{"limit_s", "objective"}],
"objective", "bound", "status", "timetable"}. One run with two workers to the last limit; at each limit it says the best
objective found by then, null where there was none. Making the model (`build_s`) comes before the clock starts.
--relaxed leaves out the rule that the next exercise starts as soon as it can, so that the figures are lower bounds of
what the solver would find, and timetables may break that rule.
"""

import argparse
import importlib.metadata
import json
import sys
import time
from pathlib import Path

from ortools.sat.python import cp_model

from model import Model, solve

WORKERS = 2


class Found(cp_model.CpSolverSolutionCallback):
    """When each better timetable was found."""

    def __init__(self):
        super().__init__()
        self.found = []

    def on_solution_callback(self):
        self.found.append((self.wall_time, round(self.objective_value)))

    def at(self, limit):
        """The best objective at this second."""
        return min((objective for second, objective in self.found if second <= limit), default=None)


def row(path, limits, relaxed):
    instance = json.loads(Path(path).read_text(encoding="utf-8"))
    began = time.monotonic()
    model = Model(instance, as_soon_as_it_can=not relaxed)
    build = time.monotonic() - began
    found = Found()
    status, objective, bound, timetable = solve(model, limits[-1], WORKERS, callback=found)
    return {
        "name": instance["name"],
        "turns": len(model.problem.turns),
        "build_s": round(build, 2),
        "workers": WORKERS,
        "solver": f"OR-Tools CP-SAT {importlib.metadata.version('ortools')}",
        "at": [{"limit_s": limit, "objective": found.at(limit)} for limit in limits],
        "objective": objective,
        "bound": bound,
        "status": status,
        "timetable": timetable,
    }


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("instances", nargs="+", metavar="INSTANCE")
    parser.add_argument("--relaxed", action="store_true")
    parser.add_argument("--limits", default="0.1,1,10,45")
    asked = parser.parse_args()
    limits = sorted(float(limit) for limit in asked.limits.split(","))
    for path in asked.instances:
        print(json.dumps(row(path, limits, asked.relaxed)), flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
