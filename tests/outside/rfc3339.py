#!/usr/bin/env python3
"""Reads times as RFC 3339 writes them, from standard input, one a line.

Prints for each the microseconds since 1970-01-01T00:00:00Z, or why it is none. The grammar is the `date-time` of
section 5.6 with the limits of section 5.7; a leap second counts as the second after it. Needs no package.
"""

import re
import sys
from datetime import datetime, timedelta, timezone

DATE_TIME = re.compile(
    r"(\d{4})-(\d{2})-(\d{2})[Tt](\d{2}):(\d{2}):(\d{2})(?:\.(\d+))?(?:[Zz]|([+-])(\d{2}):(\d{2}))", re.ASCII
)
EPOCH = datetime(1970, 1, 1, tzinfo=timezone.utc)


def micros(text):
    match = DATE_TIME.fullmatch(text)
    if match is None:
        raise ValueError("not a date-time of section 5.6")
    year, month, day, hour, minute, second = (int(part) for part in match.groups()[:6])
    fraction, sign, offset_hours, offset_minutes = match.groups()[6:]
    offset = timedelta()
    if sign is not None:
        if int(offset_hours) > 23 or int(offset_minutes) > 59:
            raise ValueError("an offset beyond 23:59")
        offset = timedelta(hours=int(offset_hours), minutes=int(offset_minutes)) * (-1 if sign == "-" else 1)
    leap = second == 60
    whole = datetime(year, month, day, hour, minute, second - leap, tzinfo=timezone.utc)
    utc = whole + timedelta(seconds=int(leap)) - offset
    if leap and (utc.day, utc.hour, utc.minute, utc.second) != (1, 0, 0, 0):
        raise ValueError("a leap second that does not end a month")
    fraction = int((fraction or "0")[:6].ljust(6, "0"))
    return (utc - EPOCH) // timedelta(microseconds=1) + fraction


def main():
    for line in sys.stdin:
        try:
            print(micros(line.rstrip("\n")))
        except ValueError as error:
            print(f"none: {error}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
