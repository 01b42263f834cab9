#!/usr/bin/env python3
"""Holds the model beside the independent checker, on timetables good and bad.

    agrees.py CHECKER FOLDER [TRIES] [SEED]

FOLDER is what `golden.py` wrote. Each timetable there is moved at random TRIES (30) times: a round, a leg or all that is
left of a member earlier or later, two rounds exchanged, other stations. The model with all starts and stations fixed
must be feasible exactly where the checker accepts, at the checker's objective. Prints each disagreement and the
counts; ends with 1 if there was one.
"""

import copy
import json
import random
import sys
from pathlib import Path

from golden import checker_of
from model import Model, solve


def moved(chance, instance, timetable):
    """A copy with one to three moves."""
    one = copy.deepcopy(timetable)
    for _ in range(chance.randrange(1, 4)):
        kind, turn = chance.randrange(5), chance.choice(one["turns"])
        by = chance.choice([-30, -10, -3, -1, 1, 3, 10, 30])
        if kind == 0:
            shift([turn], by)
        elif kind == 1:
            leg = chance.choice([leg for leg, start in enumerate(turn["starts"]) if start is not None])
            turn["starts"][leg] = max(0, turn["starts"][leg] + by)
        elif kind == 2:
            shift([t for t in one["turns"] if same_member(t, turn) and t["round"] >= turn["round"]], by)
        elif kind == 3:
            other = chance.choice(one["turns"])
            least = [min(s for s in t["starts"] if s is not None) for t in (turn, other)]
            shift([turn], least[1] - least[0])
            shift([other], least[0] - least[1])
        else:
            places = one["stations"][turn["group"]][turn["member"]]
            leg = chance.randrange(len(places))
            if not instance["groups"][turn["group"]]["members"][turn["member"]].get("stations"):
                places[leg] = chance.choice(instance["groups"][turn["group"]]["legs"][leg]["eligible"])
    return one


def same_member(one, other):
    return (one["group"], one["member"]) == (other["group"], other["member"])


def shift(turns, by):
    for turn in turns:
        turn["starts"] = [None if s is None else max(0, s + by) for s in turn["starts"]]


def judged(instance, timetable):
    """The model's objective of exactly this timetable; nothing where it has none."""
    model = Model(instance)
    starts = {(t["group"], t["member"], t["round"]): t["starts"] for t in timetable["turns"]}
    for turn in model.problem.turns:
        model.cp.add(turn.start == starts[turn.group, turn.member, turn.round][turn.leg])
    for (g, m, leg), choice in model.choice.items():
        place = timetable["stations"][g][m][leg]
        model.cp.add(choice.get(place, 0) == 1)
    status, objective, _, _ = solve(model, 60.0)
    if status not in ("optimal", "infeasible"):
        raise RuntimeError(f"{instance['name']}: {status}")
    return objective


def main():
    if len(sys.argv) not in (3, 4, 5):
        print(__doc__, file=sys.stderr)
        return 2
    checker, folder = checker_of(sys.argv[1]), Path(sys.argv[2])
    tries = int(sys.argv[3]) if len(sys.argv) > 3 else 30
    chance = random.Random(int(sys.argv[4]) if len(sys.argv) > 4 else 1)
    optima = json.loads((folder / "optima.json").read_text(encoding="utf-8"))["optima"]
    good = bad = wrong = 0
    for name, entry in optima.items():
        instance = json.loads((folder / "instances" / f"{name}.json").read_text(encoding="utf-8"))
        for timetable in [entry["timetable"]] + [moved(chance, instance, entry["timetable"]) for _ in range(tries)]:
            said = checker.check(instance, timetable)
            wanted, found = said["objective"] if said["ok"] else None, judged(instance, timetable)
            good, bad = good + said["ok"], bad + (not said["ok"])
            if wanted != found:
                wrong += 1
                print(json.dumps({"name": name, "checker": wanted, "model": found, "errors": said["errors"],
                                  "timetable": timetable}), flush=True)
    print(json.dumps({"accepted": good, "refused": bad, "disagreed": wrong}))
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
