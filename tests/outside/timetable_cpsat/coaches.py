"""Coaches: one spotted turn at a time, with the walk between stations, outside their windows (rule 5)."""


def spot(model):
    """One circuit a coach."""
    for c in range(len(model.problem.instance["coaches"])):
        turns = [turn for turn in model.problem.turns if turn.spot and turn.coach == c]
        if turns:
            circuit(model, c, turns)
            windows(model, c, turns)


def circuit(model, c, turns):
    """Arc by arc: the next spotted time begins after the last and the walk."""
    cp, coach = model.cp, model.problem.instance["coaches"][c]
    at = {None: model.true} if coach["at"] is None else {coach["at"]: model.true}
    cp.add_no_overlap(
        cp.new_fixed_size_interval_var(t.start + t.spot[0], t.spot[1] - t.spot[0], "") for t in turns
    )
    arcs = []
    for j, turn in enumerate(turns, 1):
        first = cp.new_bool_var("")
        arcs += [(0, j, first), (j, 0, cp.new_bool_var(""))]
        follow(model, turn, first, coach["free_at"], at)
        for i, one in enumerate(turns, 1):
            if one is not turn:
                literal = cp.new_bool_var("")
                arcs.append((i, j, literal))
                follow(model, turn, literal, one.start + one.spot[1], one.choice)
    cp.add_circuit(arcs)


def follow(model, turn, literal, free, places):
    """`turn` is spotted by somebody who is free then, in one of these places."""
    walk = model.problem.instance["coach_walk"]
    for place, there in places.items():
        for station, here in turn.choice.items():
            earliest = free + (0 if place is None else walk[place][station]) - turn.spot[0]
            which = [literal] + [one for one in (there, here) if one is not model.true]
            model.cp.add(turn.start >= earliest).only_enforce_if(which)
            turn.arrivals.append((which, earliest))


def windows(model, c, turns):
    """No spotted time overlaps a window of the coach."""
    for turn in turns:
        for a, b in model.problem.instance["coaches"][c].get("busy", []):
            is_before = model.cp.new_bool_var("")
            model.cp.add(turn.start + turn.spot[1] <= a).only_enforce_if(is_before)
            model.cp.add(turn.start + turn.spot[0] >= b).only_enforce_if(is_before.negated())
