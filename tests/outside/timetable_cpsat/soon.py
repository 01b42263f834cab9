"""The second half of rule 2: a further leg starts at the earliest second that those before it allow.

Nobody waits on purpose. `base` is the first second at which the member, the station and the coach are there; the start
is that second, or the end of a chain of windows without room between, the first of which stands in the way of `base`.
"""


def as_soon_as_it_can(model, turn, ready):
    """Holds `turn` to its earliest start from `ready` on."""
    cp = model.cp
    base = cp.new_int_var(0, model.horizon, "")
    reasons = []
    for which, earliest in [([], ready), ([], model.problem.now)] + turn.arrivals:
        cp.add(base >= earliest).only_enforce_if(which)
        reason = cp.new_bool_var("")
        for literal in which:
            cp.add_implication(reason, literal)
        cp.add(base <= earliest).only_enforce_if(reason)
        reasons.append(reason)
    cp.add_bool_or(reasons)
    at_once = cp.new_bool_var("")
    cp.add(turn.start <= base).only_enforce_if(at_once)
    cp.add_bool_or([at_once] + after_windows(model, turn, base))


def forbidden(model, turn):
    """(where it counts, the first start that a window forbids, the first start after it) for each window."""
    problem = model.problem
    spans = []
    for s, literal in turn.choice.items():
        for a, b in problem.stations[s].get("busy", []):
            spans.append((literal, a - turn.length + 1, b + turn.change[s]))
    if turn.spot:
        for a, b in problem.instance["coaches"][turn.coach].get("busy", []):
            spans.append((model.true, a - turn.spot[1] + 1, b - turn.spot[0]))
    return spans


def after_windows(model, turn, base):
    """For each window a literal: the turn starts right after it, and there was no room before."""
    cp = model.cp
    spans = forbidden(model, turn)
    blocks = [cp.new_bool_var("") for _ in spans]
    starts = []
    for k, (counts, first, after) in enumerate(spans):
        cp.add_implication(blocks[k], counts)
        directly = cp.new_bool_var("")
        cp.add(base >= first).only_enforce_if(directly)
        causes = [directly]
        for j, (_, _, earlier) in enumerate(spans):
            if j != k:
                through = cp.new_bool_var("")
                cp.add_implication(through, blocks[j])
                cp.add(earlier >= first).only_enforce_if(through)
                cp.add(earlier + 1 <= after).only_enforce_if(through)
                causes.append(through)
        cp.add_bool_or(causes).only_enforce_if(blocks[k])
        start = cp.new_bool_var("")
        cp.add_implication(start, blocks[k])
        cp.add(turn.start <= after).only_enforce_if(start)
        starts.append(start)
    return starts
