#!/usr/bin/env python3
"""Prints what a time zone says on the days on which its clocks are set, as Python's zoneinfo has it.

    zone_days.py ZONE FIRST_YEAR LAST_YEAR

One JSON object a line. {"utc", "offset", "next", "local", "weekday"}: at this many seconds after
1970-01-01T00:00:00Z clocks there are so many seconds east of UTC, they are set next at `next`, and calendar and
clocks read so. {"wall", "utc"}: clocks there read so at that instant; what they skip is as much later, what
they show twice is meant the first time (PEP 495, fold=0). Uses the package tzdata where it is installed, so that
the rules are the pinned ones, and else what the machine has.
"""

import importlib.util
import json
import sys
import zoneinfo
from datetime import datetime, timedelta, timezone

HOUR = 3600
DAY = 24 * HOUR
EPOCH = datetime(1970, 1, 1, tzinfo=timezone.utc)


def at(zone, seconds):
    return (EPOCH + timedelta(seconds=seconds)).astimezone(zone)


def offset(zone, seconds):
    return int(at(zone, seconds).utcoffset().total_seconds())


def changes(zone, first, last):
    """Every second at which the offset becomes another; none lasts less than an hour."""
    found = []
    for start in range(first, last, HOUR):
        if offset(zone, start) == offset(zone, start + HOUR):
            continue
        low, high = start, start + HOUR
        while high - low > 1:
            middle = (low + high) // 2
            if offset(zone, middle) == offset(zone, start):
                low = middle
            else:
                high = middle
        found.append(high)
    return found


def main():
    if len(sys.argv) != 4:
        print(__doc__, file=sys.stderr)
        return 2
    if importlib.util.find_spec("tzdata") is not None:
        zoneinfo.reset_tzpath(())
    zone = zoneinfo.ZoneInfo(sys.argv[1])
    first, last = (int(datetime(int(year), 1, 1, tzinfo=timezone.utc).timestamp()) for year in sys.argv[2:4])
    # A year more, so that the last change has one after it.
    found = changes(zone, first, last + 2 * 366 * DAY)
    for index, change in enumerate(found[:-1]):
        if change >= last + 366 * DAY:
            break
        # Whole hours of UTC from the day before to the day after, and the seconds around the change.
        hours = range(change - change % DAY - DAY, change + 2 * DAY, HOUR)
        for utc in sorted({*hours, change - 1, change, change + 1}):
            local = at(zone, utc)
            print(json.dumps({
                "utc": utc,
                "offset": offset(zone, utc),
                "next": change if utc < change else found[index + 1],
                "local": local.strftime("%Y-%m-%d %H:%M"),
                "weekday": local.weekday(),
            }))
        wall = at(zone, change - 1).replace(hour=0, minute=0, second=0, tzinfo=None)
        for minutes in range(0, 24 * 60, 10):
            shown = wall + timedelta(minutes=minutes)
            utc = int(shown.replace(tzinfo=zone, fold=0).timestamp())
            print(json.dumps({"wall": shown.strftime("%Y-%m-%d %H:%M"), "utc": utc}))
    return 0


if __name__ == "__main__":
    sys.exit(main())
