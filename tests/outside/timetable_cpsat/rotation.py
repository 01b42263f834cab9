"""Members of one group who share the first leg's station take turns there (rule 6)."""


class Row:
    """The start of a round for the rotation; without a turn it is the past one of a member who has begun."""

    def __init__(self, turn, number, available):
        self.turn, self.number, self.available = turn, number, available


def rows_of(model, g, m):
    """A member's round starts, the past one first."""
    member = model.problem.groups[g]["members"][m]
    rows = []
    if member["rounds"] and (member["last_round_end"] is not None or member["under_way"]):
        rows.append(Row(None, member["rounds"][0]["round"] - (0 if member["under_way"] else 1), 0))
    for r, (fields, turns) in enumerate(model.problem.rounds[g, m]):
        if not model.problem.done(g, m, r):
            available = max(member["release"], fields.get("not_before", 0))
            rows.append(Row(turns[0], fields["round"], available))
    return rows


def rotate(model):
    """All pairs of members of all groups."""
    for g, group in enumerate(model.problem.groups):
        members = range(len(group["members"]))
        rows = [rows_of(model, g, m) for m in members]
        for a in members:
            for b in members:
                if a != b:
                    share = sharing(model, g, a, b)
                    alternate(model, share, rows[a], rows[b])
        order = group["order"] or []
        for i, a in enumerate(order):
            for b in order[i + 1 :]:
                first, later = ([row for row in rows[m] if row.turn] for m in (a, b))
                if first and later:
                    share = sharing(model, g, min(a, b), max(a, b))
                    model.cp.add(first[0].turn.start <= later[0].turn.start).only_enforce_if(share)


def sharing(model, g, a, b):
    """Whether both do the first leg on one and the same station."""
    one, other = (model.choice[g, m, 0] for m in (a, b))
    if one is other:
        return model.true
    return model.any_of([model.both(one[s], other[s]) for s in one if s in other])


def alternate(model, share, mine, theirs):
    """Between two of my starts n rounds apart: each other at most n times, and whoever was there at least once."""
    for one, next_ in zip(mine, mine[1:]):
        apart = next_.number - one.number
        real = [row for row in theirs if row.turn]
        for k in range(len(real) - apart):
            after, before = model.earlier(one, real[k]), model.earlier(real[k + apart], next_)
            model.cp.add_bool_or([share.negated(), after.negated(), before.negated()])
        if one.turn is None:
            continue
        for j, row in enumerate(theirs):
            if row.turn is None or (j and row.number != theirs[j - 1].number + 1):
                continue
            # They were there when I started, had not gone ahead since, and I start again before them.
            wrong = [share, model.earlier(one, row), model.earlier(next_, row), model.reached(one, row.available)]
            if j and theirs[j - 1].turn is not None:
                wrong.append(model.earlier(one, theirs[j - 1]).negated())
            model.cp.add_bool_or([literal.negated() for literal in wrong])
