"""What is printed in PDF files, as pypdf reads it: texts, where they stand and in which colour, and what is filled.

    python read_paper.py FILE...

Prints one JSON list with a list of pages for each file. A page is

    {"width": 594.96, "height": 841.92,
     "texts": [{"text": "Bench press", "x": 45.3, "y": 700.1, "right": 98.2, "size": 9.5, "colour": [0, 0, 0]}],
     "fills": [{"left": 45.3, "bottom": 690.0, "right": 250.0, "top": 710.0, "colour": [1, 1, 1]}]}

in points from the lower left corner, colours as red, green and blue from 0 to 1. A text is one show operator's, a line
or a part of one; `x` and `y` are where its baseline begins and `right` is where it ends. Ligatures and spaces that do
not break are written as plain letters and spaces. Texts and fills stand in the order in which they are drawn,
each with its place in it as `at`. A stroke is a fill for each of its lines, as wide as it is drawn. Of what is filled,
and of a curve, there is only the box around it.
"""

import json
import sys
import unicodedata

from pypdf import PdfReader

# Operators of ISO 32000-1, table 51, that set the colour for filling and for strokes.
COLOURS = {b"rg": "fill", b"RG": "stroke", b"g": "fill", b"G": "stroke"}
PAINTS = {b"f": "fill", b"F": "fill", b"f*": "fill", b"S": "stroke", b"s": "stroke"}


def times(one, other):
    """The matrix that does first `one`, then `other` (ISO 32000-1, 8.3.4)."""
    a, b, c, d, e, f = one
    g, h, i, j, k, m = other
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m)


def at(matrix, x, y):
    a, b, c, d, e, f = matrix
    return a * x + c * y + e, b * x + d * y + f


def widths(font):
    """How wide each code of a font is, in thousandths of its size; all others by `None` (ISO 32000-1, 9.7.4.3)."""
    if font["/Subtype"] != "/Type0" or font["/Encoding"] != "/Identity-H":
        raise ValueError(f"a font of another kind: {font['/Subtype']}")
    inner = font["/DescendantFonts"][0].get_object()
    known, rest = {None: float(inner.get("/DW", 1000))}, list(inner.get("/W", []))
    while rest:
        first, second = int(rest.pop(0)), rest.pop(0).get_object()
        if isinstance(second, list):
            known.update((first + n, float(width)) for n, width in enumerate(second))
        else:
            width = float(rest.pop(0))
            known.update((code, width) for code in range(first, int(second) + 1))
    return known


class Page:
    """Follows the drawing of one page."""

    def __init__(self, page):
        self.now = {"fill": (0.0,) * 3, "stroke": (0.0,) * 3, "width": 1.0}
        self.lines = []
        self.kept, self.path, self.texts, self.fills, self.steps = [], [], [], [], 0
        self.fonts = {name: widths(font.get_object()) for name, font in page["/Resources"].get("/Font", {}).items()}
        self.font, self.right = ({}, 1.0), 0.0
        page.extract_text(visitor_operand_before=self.operator, visitor_text=self.text)

    def operator(self, operator, operands, matrix, text_matrix):
        self.steps += 1
        if operator == b"Tf":
            self.font = (self.fonts[operands[0]], float(operands[1]))
        elif operator == b"Tj":
            self.shown(operands[0].original_bytes, times(text_matrix, matrix))
        elif operator in (b"TJ", b"'", b'"', b"Tz", b"Tc", b"Tw", b"Ts"):
            raise ValueError(f"{operator} is not followed here")
        else:
            self.drawn(operator, operands, matrix)

    def shown(self, codes, matrix):
        known, size = self.font
        pairs = [int.from_bytes(codes[n : n + 2], "big") for n in range(0, len(codes), 2)]
        wide = sum(known.get(pair, known[None]) for pair in pairs) / 1000 * size
        self.right = max(self.right, at(matrix, wide, 0)[0])

    def drawn(self, operator, operands, matrix):
        if operator == b"q":
            self.kept.append(dict(self.now))
        elif operator == b"Q" and self.kept:
            self.now = self.kept.pop()
        elif operator in COLOURS:
            parts = tuple(float(part) for part in operands)
            self.now[COLOURS[operator]] = parts * 3 if len(parts) == 1 else parts
        elif operator in (b"k", b"K", b"scn", b"SCN", b"sc", b"SC", b"sh", b"Do"):
            raise ValueError(f"{operator} is not followed here")
        elif operator == b"w":
            self.now["width"] = float(operands[0])
        elif operator == b"re":
            x, y, width, height = (float(part) for part in operands)
            corners = [(x, y), (x + width, y), (x + width, y + height), (x, y + height), (x, y)]
            self.path += [at(matrix, *corner) for corner in corners]
            self.lines += [[at(matrix, *corner) for corner in pair] for pair in zip(corners, corners[1:])]
        elif operator in (b"m", b"l", b"c"):
            numbers = [float(part) for part in operands]
            points = [at(matrix, *numbers[n : n + 2]) for n in range(0, len(numbers), 2)]
            self.lines += [] if operator == b"m" else [self.path[-1:] + points]
            self.path += points
        elif operator in PAINTS:
            self.paint(PAINTS[operator], abs(matrix[3]) ** 0.5 * abs(matrix[0]) ** 0.5)
            self.path, self.lines = [], []
        elif operator == b"n":
            self.path, self.lines = [], []

    def paint(self, kind, scale):
        more = self.now["width"] * scale / 2 if kind == "stroke" else 0
        for points in self.lines if kind == "stroke" else [self.path]:
            xs, ys = [x for x, _ in points], [y for _, y in points]
            box = (min(xs) - more, min(ys) - more, max(xs) + more, max(ys) + more)
            fill = dict(zip(("left", "bottom", "right", "top"), box))
            self.fills.append({**fill, "colour": self.now[kind], "at": self.steps})

    def text(self, text, matrix, text_matrix, font, size):
        right, self.right = self.right, 0.0
        if not text.strip():
            return
        whole = times(text_matrix, matrix)
        x, y = at(whole, 0, 0)
        up = (whole[2] ** 2 + whole[3] ** 2) ** 0.5
        plain = unicodedata.normalize("NFKC", text).strip()
        told = {"text": plain, "x": x, "y": y, "right": right, "size": size * up}
        self.texts.append({**told, "colour": self.now["fill"], "at": self.steps})


def read(path):
    pages = []
    for page in PdfReader(path).pages:
        drawn = Page(page)
        box = page.mediabox
        pages.append({"width": float(box.width), "height": float(box.height), "texts": drawn.texts, "fills": drawn.fills})
    return pages


if __name__ == "__main__":
    print(json.dumps([read(path) for path in sys.argv[1:]]))
