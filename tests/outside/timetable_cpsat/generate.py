"""Small random instances of the timetable problem. A recipe names the features of an instance, its number is the seed.

Nothing but the seed goes into an instance, so the same Python draws the same ones; what tests read is the committed
files.
"""

import random

WEIGHTS = {
    "overrun": [[0, 30], [15, 100], [45, 300]],
    "changeover_wait": 60,
    "flow": 10,
    "makespan": 10,
    "handling": 1,
    "late": 1000,
    "door": [[300, 20]],
    "tardy": 20,
    "told": 20,
}
PLATES = [[], [20000], [20000, 2500], [20000, 5000, 1250], [10000, 2500], [25000]]

# (groups, stations, features); the instance's number is its seed.
RECIPES = [
    (2, 2, ()),
    (3, 2, ()),
    (2, 3, ("choice",)),
    (3, 4, ("choice", "apart")),
    (2, 2, ("busy",)),
    (3, 3, ("busy", "choice")),
    (2, 2, ("coach away", "spots")),
    (3, 2, ("spots",)),
    (2, 2, ("spots", "spot windows", "hand-over")),
    (3, 3, ("spots", "spot windows", "busy", "coach away")),
    (2, 2, ("unshared",)),
    (3, 3, ("unshared", "choice")),
    (2, 2, ("skips",)),
    (3, 2, ("skips", "spots")),
    (2, 2, ("unknown bar", "left as it is")),
    (2, 3, ("drop sets", "left as it is")),
    (2, 2, ("snapshot",)),
    (3, 2, ("snapshot",)),
    (2, 3, ("snapshot", "choice", "told")),
    (3, 3, ("snapshot", "told", "skips")),
    (2, 2, ("snapshot", "told", "busy")),
    (3, 3, ("snapshot", "unshared", "told")),
    (2, 2, ("snapshot", "late", "spots")),
    (2, 3, ("snapshot", "told", "spots", "hand-over", "coach away")),
    (2, 2, ("own rests", "due", "no wait limit")),
    (3, 3, ("busy", "unshared", "spots", "skips", "due", "no wait")),
]


class Draw:
    """The chance behind one instance."""

    def __init__(self, seed):
        self._random = random.Random(seed)

    def among(self, low, high):
        return low + self._random.randrange(high - low + 1)

    def of(self, values):
        return values[self._random.randrange(len(values))]

    def once_in(self, count):
        return self._random.randrange(count) == 0


def instance(number):
    """The instance of this number, 0 up to the recipes' last."""
    groups, stations, features = RECIPES[number]
    draw = Draw(number)
    now = 600 if "snapshot" in features else 0
    bars = (stations + 1) // 2
    made = {
        "format": "timetable-instance/2",
        "name": f"drawn-{number:02}",
        "now": now,
        "weights": WEIGHTS,
        "plate_s": draw.among(3, 5),
        "collar_s": draw.among(2, 5),
        "pin_s": draw.among(2, 4),
        "changeover_wait_max": {"no wait limit": None, "no wait": 0}.get(features[-1] if features else "", 15),
        "stations": [station(draw, s, bars, now, features) for s in range(stations)],
        "walk": distances(stations, 4),
        "coach_walk": distances(stations, 3),
        "coaches": [coach(draw, c, now, features) for c in range(2)],
        "x_features": list(features),
    }
    made["groups"] = [group(draw, g, made, bars, features) for g in range(groups)]
    if "unshared" in features and now:
        hold(made)
    return made


def distances(count, step):
    """Stations in a row."""
    return [[step * abs(one - other) for other in range(count)] for one in range(count)]


def station(draw, s, bars, now, features):
    """Bars first, then stacks, with the last a plain one where there are four."""
    kind = "bar" if s < bars else "plain" if s == 3 else "stack"
    made = {"id": s, "kind": kind, "free_at": 0, "load": {"bar": [], "stack": 10000, "plain": None}[kind]}
    if now:
        made["free_at"] = now - draw.among(0, 60)
        if kind == "bar":
            made["load"] = draw.of(PLATES)
    if "unknown bar" in features and kind == "bar":
        made["load"] = None
    if "busy" in features and s in (0, bars):
        begin = now + draw.among(60, 300)
        made["busy"] = [[begin, begin + draw.among(60, 200)]]
        if draw.once_in(2):
            later = made["busy"][0][1] + draw.among(30, 150)
            made["busy"].append([later, later + draw.among(20, 90)])
    if "unshared" in features and s == 0:
        made["work_in"] = False
    return made


def coach(draw, c, now, features):
    made = {"id": c, "free_at": now and now - draw.among(0, 40), "at": draw.of([None, 0, 1]) if now else None}
    if "coach away" in features and c == 0:
        begin = now + draw.among(60, 250)
        made["busy"] = [[begin, begin + draw.among(60, 240)]]
    return made


def group(draw, g, made, bars, features):
    """One or two members on a bar and then a stack, or on any of them where there is a choice."""
    count = len(made["stations"])
    if "choice" in features and not draw.once_in(3):
        legs = [list(range(bars)), list(range(bars, count))]
    else:
        legs = [[draw.among(0, bars - 1)], [draw.among(bars, count - 1)]]
    if "drop sets" in features and g == 0:
        legs[1] = legs[0]
    rest_min = draw.of([40, 60])
    whole = {
        "id": g,
        "coach": g % 2,
        "together": "apart" not in features or draw.once_in(2),
        "legs": [{"eligible": eligible} for eligible in legs],
        "rest_min": rest_min,
        "rest_max": rest_min + draw.of([15, 30]),
        "order": None,
    }
    begun = "snapshot" in features and not draw.once_in(3)
    stations = [draw.of(eligible) for eligible in legs]
    members = draw.among(1, 2)
    whole["members"] = [
        member(draw, m, whole, made, (g + m) % 3 if begun else None, stations, features) for m in range(members)
    ]
    if begun:
        # Who ended the last round first is next; who is between two legs comes after all who rest.
        begins = [m for m in whole["members"] if m["last_round_end"] is not None or m["under_way"]]
        begins.sort(key=lambda m: (m["under_way"] is not None, m["last_round_end"] or 0, m["id"]))
        whole["order"] = [m["id"] for m in begins]
    return whole


def member(draw, m, whole, made, state, stations, features):
    """`state`: nothing: has not begun. 0: between two legs; 1, 2: between two rounds."""
    now = made["now"]
    one = {"id": m, "release": draw.among(0, 4) * 15, "last_round_end": None, "under_way": None}
    if now:
        one["release"] = draw.among(0, 200) if state is not None else now - draw.among(-60, 120)
    if "due" in features:
        one["due"] = one["release"] + draw.among(300, 500)
    first = 0
    if state is not None:
        first = draw.among(1, 2)
        one["stations"] = stations
        one["last_round_end"] = now - draw.among(20, 90) - (120 if state == 0 else 0)
        if state == 0:
            ago = draw.among(30, 60) if "late" in features else draw.among(-10, 12)
            one["under_way"] = {"legs_done": 1, "last_end": now - ago}
    lengths = [draw.among(30, 75), draw.among(25, 60)]
    loads = [load(draw, made, legs["eligible"][0]) for legs in whole["legs"]]
    one["rounds"] = []
    number = first
    for r in range(draw.among(2, 3)):
        one["rounds"].append(
            round_(draw, number, r, one, whole, [lengths, loads], made, features)
        )
        number += 2 if "skips" in features and draw.once_in(4) else 1
    return one


def load(draw, made, s):
    kind = made["stations"][s]["kind"]
    if kind == "bar":
        return draw.of(PLATES)
    return 5000 * draw.among(2, 8) if kind == "stack" else None


def round_(draw, number, r, one, whole, figures, made, features):
    legs = []
    under_way = r == 0 and one["under_way"] is not None
    for leg, (length, wanted) in enumerate(zip(*figures)):
        spot = False
        if "spots" in features and leg == 0 and not draw.once_in(3):
            spot = True
            if "spot windows" in features and draw.once_in(2):
                spot = [length // 3, length - draw.among(0, 5)]
        if "left as it is" in features and draw.once_in(3):
            wanted = None
        legs.append({"dur": length + draw.among(-4, 4), "load": wanted, "spot": spot})
        if isinstance(spot, list):
            spot[1] = min(spot[1], legs[-1]["dur"])
    if "skips" in features and not under_way and draw.once_in(3):
        legs[draw.among(0, 1)] = None
    made_round = {"round": number, "legs": legs}
    if "hand-over" in features and r == 1:
        made_round["coach"] = 1 - whole["coach"]
    if "own rests" in features and r > 0:
        made_round["rest_min"] = whole["rest_min"] + 20
        made_round["rest_max"] = draw.of([None, whole["rest_min"] + 40])
    if "own rests" in features and r == 2:
        made_round["not_before"] = 500
    if "told" in features and r == 0 and one["last_round_end"] is not None:
        told = made["now"] + draw.among(5, 40)
        left = [leg for leg in range(2) if legs[leg] is not None and not (under_way and leg == 0)]
        made_round["told"] = [told if leg == left[0] else None for leg in range(2)]
    return made_round


def hold(made):
    """The first group that has begun on an unshared station has it."""
    for each in made["groups"]:
        for one in each["members"]:
            if one.get("stations") and one["stations"][0] == 0:
                each["holds"] = [0]
                return
