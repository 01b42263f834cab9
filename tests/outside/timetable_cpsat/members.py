"""Members: changeovers and rests, and what waiting costs (rules 1 to 3 and the objective)."""

import soon
from problem import Before, as_key


def go(model):
    """Every member's rounds one after the other."""
    finishes = []
    for g, m, group, member in model.problem.members():
        end = one_member(model, g, m, group, member)
        if end is not None:
            finishes.append(end)
            model.pay("flow", end - member["release"])
            if "due" in member:
                model.pay("tardy", model.above(end - member["due"]))
    if finishes:
        makespan = model.cp.new_int_var(0, model.horizon, "makespan")
        model.cp.add_max_equality(makespan, finishes)
        model.pay("makespan", makespan)


def one_member(model, g, m, group, member):
    """The member's rounds; where the last of them ends."""
    problem = model.problem
    end, place = member["last_round_end"], model.choice[g, m, len(group["legs"]) - 1]
    last = None
    for r, (fields, turns) in enumerate(problem.rounds[g, m]):
        before = under_way(model, g, m, r)
        for turn in turns:
            if before is None:
                if end is not None:
                    number = member["rounds"][r - 1]["round"] + 1 if r else fields["round"]
                    rest(model, turn, end, place, group, fields, fields["round"] == number)
                elif r == 0:
                    door = model.above_all(turn.start - member["release"], problem.weights["door"])
                    model.pay_as_it_is(door)
            else:
                changeover(model, turn, before)
            if turn.told is not None:
                model.pay("told", model.above_either_way(turn.start - turn.told, 5))
            before = Before(turn, None, turn.choice, None)
        last, place = turns[-1], turns[-1].choice
        end = last.end
    return last.end if last else None


def under_way(model, g, m, r):
    """What was done of this round before now."""
    problem = model.problem
    done = problem.done(g, m, r)
    if not done:
        return None
    way = problem.groups[g]["members"][m]["under_way"]
    fields = problem.rounds[g, m][r][0]["legs"][done - 1]
    choice = model.choice[g, m, done - 1]
    left = {s: as_key(fields["load"]) for s in choice}
    if fields["load"] is None:
        left = {s: as_key(problem.stations[s]["load"]) for s in choice}
    return Before(None, way["last_end"], choice, left)


def rest(model, turn, end, place, group, fields, follows):
    """At least the shortest rest and the way back; a price for what is beyond the longest."""
    least = fields.get("rest_min", group["rest_min"])
    for there, one in place.items():
        for here, other in turn.choice.items():
            walk = model.problem.instance["walk"][there][here]
            model.cp.add(turn.start >= end + max(least, walk)).only_enforce_if(one, other)
    longest = fields.get("rest_max", group["rest_max"])
    if longest is not None and follows:
        over = model.above_all(turn.start - end - longest, model.problem.weights["overrun"])
        model.pay_as_it_is(over)


def changeover(model, turn, before):
    """No earlier than the walk allows, no later than the longest wait, and as soon as it can."""
    most = model.problem.instance["changeover_wait_max"]
    ready = (before.turn.end if before.turn else before.end) + way(model, turn, before)
    gap = turn.start - ready
    model.cp.add(gap >= 0)
    if before.turn is None and most is not None:
        late = model.above(gap - most)
        # Exactly the excess: a second of it may cost less than a second of the wait.
        model.cp.add_max_equality(late, [gap - most, 0])
        model.pay("late", late)
        gap = gap - late
    elif most is not None:
        model.cp.add(gap <= most)
    model.pay("changeover_wait", gap)
    if model.as_soon_as_it_can:
        soon.as_soon_as_it_can(model, turn, ready)


def way(model, turn, before):
    """Seconds between two legs that are not waiting: the walk, or on one and the same station the change of load."""
    problem, total = model.problem, 0
    for there, one in before.choice.items():
        for here, other in turn.choice.items():
            walk = problem.instance["walk"][there][here]
            both = model.both(one, other)
            total += walk * both
            if there != here:
                continue
            if before.turn is None:
                total += problem.change(here, before.load[here], turn.load)[0] * both
                continue
            for load, literal in before.turn.nodes[there]:
                seconds = problem.change(here, load, turn.load)[0]
                if seconds:
                    total += seconds * model.both(literal, both)
    return total
