"""An instance of the timetable problem, taken apart into turns: what is fixed about each before anything is decided.

Format 2 of the instance files. All times are whole seconds.
"""

from dataclasses import dataclass, field


def differing(kind, there, wanted):
    """The pieces that tell two loads apart: plates of one side outside the common inner part, or the pin."""
    if wanted is None or kind == "plain":
        return 0
    if kind == "stack":
        return int(there != wanted)
    there = there or ()
    common = 0
    while common < min(len(there), len(wanted)) and there[common] == wanted[common]:
        common += 1
    return len(there) + len(wanted) - 2 * common


def as_key(load):
    """A load as something to compare: the plates of one side as a tuple, a label as it is, unknown as None."""
    return tuple(load) if isinstance(load, list) else load


@dataclass(eq=False)
class Turn:
    """One leg of one round of one member that is still to do."""

    group: int
    member: int
    round: int
    leg: int
    length: int
    load: object
    spot: tuple | None
    coach: int
    told: int | None
    low: int
    before: "Before | None" = None
    start: object = None
    choice: dict = field(default_factory=dict)  # station: literal
    change: dict = field(default_factory=dict)  # station: expression of the seconds of change right before it
    nodes: dict = field(default_factory=dict)  # station: [(load after it, literal)]
    arrivals: list = field(default_factory=list)  # (literals, the first second they allow): station and coach

    @property
    def end(self):
        return self.start + self.length


@dataclass
class Before:
    """What comes before a further leg of a round: a turn, or what was done before now."""

    turn: Turn | None
    end: int | None
    choice: dict
    load: object  # for what was done before now: the load left, by its own station


class Problem:
    """The instance with its turns, and figures that the parts of the model share."""

    def __init__(self, instance):
        self.instance = instance
        self.now = instance["now"]
        self.stations = instance["stations"]
        self.groups = instance["groups"]
        self.weights = instance["weights"]
        self.turns = []
        self.rounds = {}  # (group, member): [(round, [turn of each leg that is left])]
        for g, group in enumerate(self.groups):
            for m, member in enumerate(group["members"]):
                self.rounds[g, m] = [self._round(g, m, r) for r in range(len(member["rounds"]))]

    def members(self):
        """Every member as (group, member, the group, the member's fields)."""
        for g, group in enumerate(self.groups):
            for m, member in enumerate(group["members"]):
                yield g, m, group, member

    def eligible(self, g, m, leg):
        """The stations that this member may use for this leg."""
        group = self.groups[g]
        fixed = group["members"][m].get("stations")
        return [fixed[leg]] if fixed else list(dict.fromkeys(group["legs"][leg]["eligible"]))

    def change(self, station, there, wanted):
        """Seconds and pieces to go from one load to another on this station."""
        kind = self.stations[station]["kind"]
        pieces = differing(kind, there, wanted)
        if pieces == 0:
            return 0, 0
        if kind == "stack":
            return self.instance["pin_s"], 1
        return self.instance["collar_s"] + self.instance["plate_s"] * pieces, 2 * pieces

    def done(self, g, m, r):
        """How many legs of this round were done before now."""
        way = self.groups[g]["members"][m]["under_way"]
        return way["legs_done"] if r == 0 and way else 0

    def horizon(self):
        """A second before which everything can be over: the latest that is fixed, and then one after the other."""
        one = self.instance
        fixed = [one["now"]] + [station["free_at"] for station in self.stations]
        fixed += [coach["free_at"] for coach in one["coaches"]]
        fixed += [to for place in self.stations + one["coaches"] for _, to in place.get("busy", [])]
        walk = max((max(row) for row in one["walk"] + one["coach_walk"]), default=0)
        change = self._longest_change()
        total = 0
        for g, m, group, member in self.members():
            fixed += [member["release"], member["last_round_end"] or 0]
            fixed.append((member["under_way"] or {}).get("last_end", 0))
            for r, (each, turns) in enumerate(self.rounds[g, m]):
                fixed += [each.get("not_before", 0)] + [t or 0 for t in each.get("told", [])]
                total += max(each.get("rest_min", group["rest_min"]), walk)
                total += sum(turn.length + 2 * walk + change for turn in turns)
        return max(fixed) + total

    def _longest_change(self):
        """All plates of the longest load off and as many others on."""
        loads = [turn.load for turn in self.turns] + [as_key(station["load"]) for station in self.stations]
        plates = 2 * max((len(load) for load in loads if isinstance(load, tuple)), default=0)
        return max(self.instance["pin_s"], self.instance["collar_s"] + self.instance["plate_s"] * plates)

    def _round(self, g, m, r):
        group = self.groups[g]
        member = group["members"][m]
        each = member["rounds"][r]
        done = self.done(g, m, r)
        turns = []
        for leg in range(done, len(each["legs"])):
            fields = each["legs"][leg]
            if fields is None:
                continue
            spot = fields["spot"]
            spot = (0, fields["dur"]) if spot is True else tuple(spot) if spot else None
            first = not turns and not done
            low = max(self.now, member["release"], each.get("not_before", 0)) if first else self.now
            told = each.get("told", [None] * len(each["legs"]))[leg]
            turns.append(
                Turn(
                    *(g, m, r, leg, fields["dur"], as_key(fields["load"]), spot),
                    *(each.get("coach", group["coach"]), told, low),
                )
            )
        self.turns += turns
        return each, turns
