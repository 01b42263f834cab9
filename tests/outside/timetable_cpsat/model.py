"""The whole timetable problem as a model for a CP solver, made from the rules alone and from no decoder."""

from ortools.sat.python import cp_model

import coaches
import members
import rotation
import stations
from problem import Problem


class Model:
    """The model of one instance. Without `as_soon_as_it_can` it leaves out the second half of rule 2: its optimum is
    then a lower bound."""

    def __init__(self, instance, as_soon_as_it_can=True):
        self.problem = Problem(instance)
        self.as_soon_as_it_can = as_soon_as_it_can and not instance["weights"].get("x_free_start")
        self.horizon = self.problem.horizon()
        self.cp = cp_model.CpModel()
        self.true = self.cp.new_constant(1)
        self.choice = {}
        self.cost = []
        self._both = {}
        self._earlier = {}
        self._reached = {}
        for turn in self.problem.turns:
            turn.start = self.cp.new_int_var(turn.low, self.horizon, f"{turn.group}.{turn.member}.{turn.round}.{turn.leg}")
        stations.choose(self)
        stations.sequence(self)
        coaches.spot(self)
        members.go(self)
        rotation.rotate(self)
        self.cp.minimize(sum(self.cost))

    def pay(self, weight, seconds):
        """Adds so many of what this weight prices."""
        self.cost.append(self.problem.weights[weight] * seconds)

    def pay_as_it_is(self, price):
        """Adds a price that is worked out already."""
        self.cost.append(price)

    def above(self, expression):
        """What an expression is above zero, where more is never better."""
        over = self.cp.new_int_var(0, 2 * self.horizon, "")
        self.cp.add(over >= expression)
        return over

    def above_either_way(self, expression, free):
        """What an expression differs from zero by more than `free`."""
        over = self.above(expression - free)
        self.cp.add(over >= -expression - free)
        return over

    def above_all(self, expression, steps):
        """The price of an expression by steps that become dearer."""
        total, last = 0, 0
        for start, each in steps:
            if each < last:
                raise ValueError(f"prices must not fall: {each} a second after {last}")
            if each > last:
                total += (each - last) * self.above(expression - start)
            last = each
        return total

    def both(self, one, other):
        """A literal for both."""
        if one is self.true or one is other:
            return other
        if other is self.true:
            return one
        key = (min(one.index, other.index), max(one.index, other.index))
        if key not in self._both:
            both = self.cp.new_bool_var("")
            self.cp.add_bool_and(one, other).only_enforce_if(both)
            self.cp.add_bool_or(one.negated(), other.negated(), both)
            self._both[key] = both
        return self._both[key]

    def any_of(self, literals):
        """A literal for at least one."""
        if any(literal is self.true for literal in literals):
            return self.true
        any_ = self.cp.new_bool_var("")
        self.cp.add_bool_or(literals).only_enforce_if(any_)
        for literal in literals:
            self.cp.add_implication(literal, any_)
        return any_

    def earlier(self, one, other):
        """A literal for: this start of a round lies before that one. A past one lies before all."""
        if one.turn is None:
            return self.true
        key = (one.turn, other.turn)
        if key not in self._earlier:
            literal = self.cp.new_bool_var("")
            self.cp.add(one.turn.start + 1 <= other.turn.start).only_enforce_if(literal)
            self.cp.add(one.turn.start >= other.turn.start).only_enforce_if(literal.negated())
            self._earlier[key] = literal
        return self._earlier[key]

    def reached(self, row, second):
        """A literal for: this start is no earlier than that second."""
        if row.turn.low >= second:
            return self.true
        key = (row.turn, second)
        if key not in self._reached:
            literal = self.cp.new_bool_var("")
            self.cp.add(row.turn.start >= second).only_enforce_if(literal)
            self.cp.add(row.turn.start + 1 <= second).only_enforce_if(literal.negated())
            self._reached[key] = literal
        return self._reached[key]

    def timetable(self, value):
        """The timetable that the solver's values say."""
        problem = self.problem
        places = [[None] * len(group["members"]) for group in problem.groups]
        turns = []
        for g, m, group, member in problem.members():
            chosen = [self.choice[g, m, leg] for leg in range(len(group["legs"]))]
            places[g][m] = [next(s for s in one if value(one[s])) for one in chosen]
            for r, (fields, left) in enumerate(problem.rounds[g, m]):
                starts = [None] * len(fields["legs"])
                for turn in left:
                    starts[turn.leg] = value(turn.start)
                turns.append({"group": g, "member": m, "round": r, "starts": starts})
        return {"instance": problem.instance["name"], "stations": places, "turns": turns}


def solve(model, seconds, workers=2, seed=1, callback=None):
    """(status, objective, bound, timetable) after at most so many seconds; the last three may be None."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.random_seed = seed
    status = solver.solve(model.cp, callback)
    name = solver.status_name(status).lower()
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return name, None, None, None
    return name, round(solver.objective_value), round(solver.best_objective_bound), model.timetable(solver.value)
