"""Stations: who uses which, one at a time, with a change that depends on what is there (rules 4 and 7)."""

from problem import as_key


def choose(model):
    """A station for each leg of each member; the same for all members of a group that trains together."""
    problem = model.problem
    for g, m, group, _ in problem.members():
        for leg in range(len(group["legs"])):
            stations = problem.eligible(g, m, leg)
            if len(stations) == 1:
                model.choice[g, m, leg] = {stations[0]: model.true}
                continue
            literals = {s: model.cp.new_bool_var(f"use {g}.{m}.{leg} {s}") for s in stations}
            model.cp.add_exactly_one(literals.values())
            model.choice[g, m, leg] = literals
        if group["together"] and m > 0:
            for leg in range(len(group["legs"])):
                same(model, model.choice[g, 0, leg], model.choice[g, m, leg])
    for turn in problem.turns:
        turn.choice = model.choice[turn.group, turn.member, turn.leg]


def same(model, one, other):
    """Both choose the same station."""
    for station in set(one) | set(other):
        model.cp.add(one.get(station, 0) == other.get(station, 0))


def sequence(model):
    """One circuit a station: turns in order, each after the change from the load that is really there."""
    for s in range(len(model.problem.stations)):
        turns = [turn for turn in model.problem.turns if s in turn.choice]
        if turns:
            one_at_a_time(model, s, turns)
            circuit(model, s, turns)
            windows(model, s, turns)
            if not model.problem.stations[s].get("work_in", True):
                one_group_at_a_time(model, s, turns)


def one_at_a_time(model, s, turns):
    """What the circuit says too, but propagated on times."""
    cp = model.cp
    intervals = [cp.new_optional_fixed_size_interval_var(t.start, t.length, t.choice[s], "") for t in turns]
    intervals += [
        cp.new_fixed_size_interval_var(a, b - a, "") for a, b in apart(model.problem.stations[s].get("busy", []))
    ]
    cp.add_no_overlap(intervals)


def apart(windows):
    """Windows that overlap, put together."""
    joined = []
    for a, b in sorted(windows):
        if joined and a <= joined[-1][1]:
            joined[-1][1] = max(b, joined[-1][1])
        else:
            joined.append([a, b])
    return joined


def nodes_of(model, s, turns):
    """The places of the circuit: (turn, load after it, literal). A turn that leaves what is there has one for each
    load that can be there."""
    station = model.problem.stations[s]
    loads = {as_key(station["load"])} | {turn.load for turn in turns if turn.load is not None}
    nodes = []
    for turn in turns:
        if station["kind"] == "plain" or turn.load is not None:
            turn.nodes[s] = [(turn.load, turn.choice[s])]
        else:
            turn.nodes[s] = [(load, model.cp.new_bool_var("")) for load in sorted(loads, key=repr)]
            model.cp.add(sum(literal for _, literal in turn.nodes[s]) == turn.choice[s])
        nodes += [(turn, load, literal) for load, literal in turn.nodes[s]]
    return nodes


def circuit(model, s, turns):
    """Arc by arc: the follower starts after the end and the change."""
    problem, cp = model.problem, model.cp
    station = problem.stations[s]
    nodes = nodes_of(model, s, turns)
    arcs = [(0, 0, cp.new_bool_var(""))]
    sources = [(0, None, as_key(station["load"]))]
    sources += [(at, turn, load) for at, (turn, load, _) in enumerate(nodes, 1)]
    for turn in turns:
        turn.change[s] = 0
    for at, (turn, _, literal) in enumerate(nodes, 1):
        arcs += [(at, at, literal.negated()), (at, 0, cp.new_bool_var(""))]
    for source, one, there in sources:
        for at, (turn, after, _) in enumerate(nodes, 1):
            keeps = turn.load is None and station["kind"] != "plain"
            if one is turn or (keeps and after != there):
                continue
            seconds, pieces = problem.change(s, there, turn.load)
            literal = cp.new_bool_var("")
            arcs.append((source, at, literal))
            free = station["free_at"] if one is None else one.end
            cp.add(turn.start >= free + seconds).only_enforce_if(literal)
            turn.arrivals.append(([literal], free + seconds))
            turn.change[s] += seconds * literal
            model.pay("handling", pieces * literal)
    cp.add_circuit(arcs)


def windows(model, s, turns):
    """Neither turns nor changes overlap a window."""
    for turn in turns:
        for a, b in model.problem.stations[s].get("busy", []):
            is_before = model.cp.new_bool_var("")
            model.cp.add(turn.end <= a).only_enforce_if(turn.choice[s], is_before)
            model.cp.add(turn.start - turn.change[s] >= b).only_enforce_if(turn.choice[s], is_before.negated())


def one_group_at_a_time(model, s, turns):
    """Rule 7: of two groups, one is done with the station before the other begins; who holds it goes first."""
    groups = sorted({turn.group for turn in turns})
    for i, g in enumerate(groups):
        for h in groups[i + 1 :]:
            first = model.cp.new_bool_var("")
            for group, literal in ((g, first), (h, first.negated())):
                if s in model.problem.groups[group].get("holds", []):
                    held = [turn.choice[s] for turn in turns if turn.group == group]
                    for one in held:
                        model.cp.add_implication(one, literal)
            for one in (turn for turn in turns if turn.group == g):
                for other in (turn for turn in turns if turn.group == h):
                    both = [one.choice[s], other.choice[s]]
                    model.cp.add(one.end <= other.start).only_enforce_if(first, *both)
                    model.cp.add(other.end <= one.start).only_enforce_if(first.negated(), *both)
