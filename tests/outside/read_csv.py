#!/usr/bin/env python3
"""Reads comma-separated values from standard input as RFC 4180 writes them, and prints the rows as JSON.

Each row is an object by the names of the first row. `strict` refuses what the format does not allow, and a row that
is longer or shorter than the first is an error too. The bytes must be UTF-8, and every row must end with CR and LF.
Needs no package.
"""

import csv
import io
import json
import sys


def main():
    text = sys.stdin.buffer.read().decode("utf-8", errors="strict")
    if not text.endswith("\r\n"):
        raise SystemExit("the last row does not end with CR and LF")
    # Line breaks within quotes stay as they are.
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    head, *body = rows
    if len(set(head)) != len(head):
        raise SystemExit(f"a column is named twice: {head}")
    for row in body:
        if len(row) != len(head):
            raise SystemExit(f"{len(row)} fields where there are {len(head)} columns: {row}")
    json.dump([dict(zip(head, row)) for row in body], sys.stdout)
    return 0


if __name__ == "__main__":
    sys.exit(main())
