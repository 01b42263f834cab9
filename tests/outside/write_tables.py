"""Writes tables as Python's own csv module writes them, for a reader that is not Python's.

    write_tables.py FOLDER

Puts one file for each dialect of the module into FOLDER, clients all of them, with what a cell may hold that needs
quotation marks: commas, quotation marks, blanks, letters beyond ASCII, what looks like a formula. Prints the rows as
JSON: a list of lists of text, header first.
"""

import csv
import json
import sys
from pathlib import Path

ROWS = [
    ["number", "name", "unit", "regular", "show_load", "screened_on", "screening"],
    ["5", "Greta, the second", "kg", "true", "", "2026-02-03", "cleared"],
    ["6", 'Hana "H"', "lb", "", "false", "", ""],
    ["7", "Jos\u00e9 \u4e2d\u6587", "", "", "", "", ""],
    ["8", "=1+1", "", "", "", "", ""],
    ["9", "@x;y", "", "false", "true", "", ""],
]


def main() -> None:
    folder = Path(sys.argv[1])
    dialects = {
        "excel": {"dialect": "excel"},
        "unix": {"dialect": "unix"},
        "semicolons": {"dialect": "excel", "delimiter": ";"},
        "all_quoted": {"quoting": csv.QUOTE_ALL, "lineterminator": "\n"},
    }
    for name, how in dialects.items():
        with (folder / f"{name}.csv").open("w", encoding="utf-8", newline="") as file:
            csv.writer(file, **how).writerows(ROWS)
    print(json.dumps(ROWS))


if __name__ == "__main__":
    main()
