#!/usr/bin/env python3
"""Prints how good a timetable the CP solver has after so many seconds: a table to lay beside our planner's.

    anytime.py [--relaxed] [--limits 0.1,1,10,45] INSTANCE...

One JSON object an instance: {"name", "turns", "build_s", "workers", "solver", "at": [{"limit_s", "objective"}],
"objective", "bound", "status", "timetable"}. One run with two workers to the last limit; at each limit it says the best
objective found by then, null where there was none. Making the model (`build_s`) comes before the clock starts.
The solver finds no timetable of a whole evening by itself in such times, so it is first asked for one with the groups
one after the other, which counts, and goes on from there.
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
    """When each better timetable was found, with the seconds of an earlier run before them."""

    def __init__(self, earlier=0.0):
        super().__init__()
        self.earlier = earlier
        self.found = []

    def on_solution_callback(self):
        self.found.append((self.earlier + self.wall_time, round(self.objective_value)))


def one_after_the_other(model):
    """What is under way, then group after group, the members of each in rotation, on the first stations that suit."""
    problem = model.problem
    for (g, _, leg), choice in model.choice.items():
        group = problem.groups[g]
        with_me = range(len(group["members"])) if group["together"] else ()
        suits = (literal for s, literal in choice.items() if all(s in model.choice[g, m, leg] for m in with_me))
        model.cp.add(next(suits) == 1)
    under_way, sequence = [], []
    # Who holds a station goes first.
    for g, group in sorted(enumerate(problem.groups), key=lambda each: not each[1].get("holds")):
        order = list(dict.fromkeys((group["order"] or []) + list(range(len(group["members"])))))
        left = []
        for m in order:
            rounds = [turns for _, turns in problem.rounds[g, m]]
            if rounds and problem.done(g, m, 0):
                under_way.append(rounds.pop(0))
            left.append(rounds)
        for cycle in range(max(map(len, left))):
            sequence += [rounds[cycle] for rounds in left if cycle < len(rounds)]
    for one in under_way:
        if sequence:
            model.cp.add(sequence[0][0].start >= one[-1].end)
    for one, other in zip(sequence, sequence[1:]):
        model.cp.add(other[0].start >= one[-1].end)
    starts = [turn.start for turn in model.problem.turns]
    model.cp.add_decision_strategy(starts, cp_model.CHOOSE_LOWEST_MIN, cp_model.SELECT_MIN_VALUE)


def row(path, limits, relaxed):
    instance = json.loads(Path(path).read_text(encoding="utf-8"))
    began = time.monotonic()
    model, first = (Model(instance, as_soon_as_it_can=not relaxed) for _ in range(2))
    one_after_the_other(first)
    build = time.monotonic() - began

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = WORKERS
    solver.parameters.search_branching = cp_model.FIXED_SEARCH
    solver.parameters.stop_after_first_solution = True
    solver.parameters.max_time_in_seconds = limits[-1] / 2
    serial = Found()
    began = time.monotonic()
    serial_timetable = None
    if solver.solve(first.cp, serial) in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        serial_timetable = first.timetable(solver.value)
        for index, value in enumerate(solver.response_proto.solution):
            model.cp.add_hint(model.cp.get_int_var_from_proto_index(index), value)
    used = time.monotonic() - began

    found = Found(used)
    status, objective, bound, timetable = solve(model, limits[-1] - used, WORKERS, callback=found)
    if timetable is None and serial_timetable is not None:
        status, objective, timetable = "feasible", serial.found[-1][1], serial_timetable

    def at(limit):
        return min((each for second, each in serial.found + found.found if second <= limit), default=None)

    return {
        "name": instance["name"],
        "turns": len(model.problem.turns),
        "build_s": round(build, 2),
        "workers": WORKERS,
        "solver": f"OR-Tools CP-SAT {importlib.metadata.version('ortools')}",
        "at": [{"limit_s": limit, "objective": at(limit)} for limit in limits],
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
