"""Look over the pages of a PDF for what a reader would stumble on.

Needs pdfplumber and pikepdf. Usage: page_check.py FILE.pdf [--margin MM] [--smallest PT]

Prints a line for each finding and exits 1 if there is any:
  overlap   two words printed over each other
  outside   text nearer to the paper's edge than the margin
  small     text below the smallest size
  struck    a solid line of the drawing runs through a word
  empty     a page with hardly anything on it
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

import pdfplumber
import pikepdf

MM = 72 / 25.4
DEEPEST_FORM = 8

Point = tuple[float, float]
Matrix = Sequence[float]
Rectangle = tuple[float, float, float, float]
Word = dict[str, Any]

_STROKES = frozenset({"S", "s", "B", "B*", "b", "b*"})
_CLOSES = frozenset({"s", "b", "b*"})
_PAINTS = _STROKES | {"f", "F", "f*", "n"}


def boxes_overlap(a: Word, b: Word) -> float:
    """Share of the smaller box that the other covers."""
    w = min(a["x1"], b["x1"]) - max(a["x0"], b["x0"])
    h = min(a["bottom"], b["bottom"]) - max(a["top"], b["top"])
    if w <= 0 or h <= 0:
        return 0.0
    area = min((r["x1"] - r["x0"]) * (r["bottom"] - r["top"]) for r in (a, b))
    return float(w * h / area) if area > 0 else 0.0


def _product(a: Matrix, b: Matrix) -> Matrix:
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )


def _clip_line(start: Point, end: Point, box: Rectangle) -> tuple[Point, Point] | None:
    """The part of a line inside a box (left, low, right, high), by Liang and Barsky; None where none is."""
    low, high = 0.0, 1.0
    for axis in (0, 1):
        d, p = end[axis] - start[axis], start[axis]
        if abs(d) < 1e-9:
            low, high = (low, high) if box[axis] <= p <= box[axis + 2] else (1.0, 0.0)
        else:
            first, last = sorted(((box[axis] - p) / d, (box[axis + 2] - p) / d))
            low, high = max(low, first), min(high, last)
    if low > high:
        return None
    dx, dy = end[0] - start[0], end[1] - start[1]
    return (start[0] + low * dx, start[1] + low * dy), (start[0] + high * dx, start[1] + high * dy)


def _bezier(p0: Point, p1: Point, p2: Point, p3: Point) -> list[Point]:
    """Eight points along a curve, its start left out."""
    weights = [((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3) for t in (k / 8 for k in range(1, 9))]
    return [
        (a * p0[0] + b * p1[0] + c * p2[0] + d * p3[0], a * p0[1] + b * p1[1] + c * p2[1] + d * p3[1]) for a, b, c, d in weights
    ]


@dataclass
class _Walk:
    """A content stream being read: graphics state, and the path under construction."""

    ctm: Matrix
    clip: Rectangle
    dashed: bool = False
    stack: list[tuple[Matrix, Rectangle, bool]] = field(default_factory=list)
    path: list[list[Point]] = field(default_factory=list)
    clips: bool = False

    def at(self, x: float, y: float) -> Point:
        a, b, c, d, e, f = self.ctm
        return x * a + y * c + e, x * b + y * d + f

    def state(self, operator: str, operands: Sequence[Any]) -> None:
        """Take in an operator of the graphics state; any other is left alone."""
        if operator == "d":
            self.dashed = len(operands[0]) > 0
        elif operator == "q":
            self.stack.append((self.ctm, self.clip, self.dashed))
        elif operator == "Q":
            self.ctm, self.clip, self.dashed = self.stack.pop()
        elif operator == "cm":
            self.ctm = _product([float(v) for v in operands], self.ctm)
        elif operator in ("W", "W*"):
            self.clips = True

    def build(self, operator: str, operands: Sequence[Any]) -> None:
        """Take in an operator that adds to the path; any other is left alone."""
        if operator == "h" and self.path:
            self.path[-1].append(self.path[-1][0])
        if operator not in ("m", "l", "c", "v", "y", "re"):
            return
        v = [float(n) for n in operands]
        if operator == "re":
            x, y, w, h = v
            self.path.append([self.at(*p) for p in ((x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y))])
        elif operator == "m":
            self.path.append([self.at(*v)])
        elif operator == "l":
            self.path[-1].append(self.at(*v))
        else:
            self._curve(operator, [self.at(v[i], v[i + 1]) for i in range(0, len(v), 2)])

    def _curve(self, operator: str, points: list[Point]) -> None:
        start = self.path[-1][-1]
        if operator == "v":
            points = [start, *points]
        elif operator == "y":
            points = [*points, points[1]]
        self.path[-1] += _bezier(start, points[0], points[1], points[2])

    def paint(self, operator: str) -> Iterator[tuple[Point, Point]]:
        """The solid lines that a painting operator leaves on the page; the path is then empty."""
        if operator in _CLOSES and self.path:
            self.path[-1].append(self.path[-1][0])
        if operator in _STROKES and not self.dashed:
            for sub in self.path:
                clipped = (_clip_line(start, end, self.clip) for start, end in pairwise(sub))
                yield from (line for line in clipped if line)
        if self.clips and self.path:
            self._narrow()
        self.clips, self.path = False, []

    def _narrow(self) -> None:
        xs = [p[0] for sub in self.path for p in sub]
        ys = [p[1] for sub in self.path for p in sub]
        left, low, right, high = self.clip
        self.clip = max(left, min(xs)), max(low, min(ys)), min(right, max(xs)), min(high, max(ys))


def _lines(operations: Iterable[Any], resources: Any, walk: _Walk, deep: int = 0) -> Iterator[tuple[Point, Point]]:
    for operation in operations:
        operator = str(operation.operator)
        if operator in _PAINTS:
            yield from walk.paint(operator)
        elif operator == "Do" and resources is not None and deep < DEEPEST_FORM:
            yield from _form(str(operation.operands[0]), resources, walk, deep)
        else:
            walk.state(operator, operation.operands)
            walk.build(operator, operation.operands)


def _form(name: str, resources: Any, walk: _Walk, deep: int) -> Iterator[tuple[Point, Point]]:
    form = resources.get("/XObject", {}).get(name)
    if form is None or form.get("/Subtype") != "/Form":
        return
    matrix = _product([float(v) for v in form.get("/Matrix", [1, 0, 0, 1, 0, 0])], walk.ctm)
    inner = _Walk(matrix, walk.clip, walk.dashed)
    yield from _lines(pikepdf.parse_content_stream(form), form.get("/Resources", resources), inner, deep + 1)


def segments(page: pikepdf.Page, height: float) -> Iterator[Rectangle]:
    """Solid straight strokes as drawn, cut to the clipping box, as (x0, top, x1, bottom). Walks the content with pikepdf."""
    left, low, right, high = (float(v) for v in page.mediabox)
    walk = _Walk((1, 0, 0, 1, 0, 0), (left, low, right, high))
    for (xa, ya), (xb, yb) in _lines(pikepdf.parse_content_stream(page), page.obj.get("/Resources"), walk):
        yield xa, height - ya, xb, height - yb


def crosses(segment: Rectangle, box: Word) -> bool:
    """Whether a segment runs through the inner part of a box."""
    x0, y0, x1, y1 = segment
    ix, iy = 0.12 * (box["x1"] - box["x0"]), 0.30 * (box["bottom"] - box["top"])
    inner = box["x0"] + ix, box["top"] + iy, box["x1"] - ix, box["bottom"] - iy
    return _clip_line((x0, y0), (x1, y1), inner) is not None


def _word_findings(words: Sequence[Word], page: Any, margin: float, smallest: float) -> Iterator[tuple[str, str]]:
    m = margin * MM
    for w in words:
        beside = w["x0"] < m - 0.5 or w["x1"] > page.width - m + 0.5
        if beside or w["top"] < m - 0.5 or w["bottom"] > page.height - m + 0.5:
            yield "outside", f"{w['text']!r}"
        if w["upright"] and w["size"] < smallest - 0.05:
            yield "small", f"{w['text']!r} {w['size']:.1f} pt"


def _overlaps(words: Sequence[Word]) -> Iterator[tuple[str, str]]:
    ordered = sorted(words, key=lambda w: float(w["top"]))
    for i, w in enumerate(ordered):
        for v in ordered[i + 1 :]:
            if v["top"] > w["bottom"]:
                break
            if boxes_overlap(w, v) > 0.15:
                yield "overlap", f"{w['text']!r} and {v['text']!r}"


def _page_findings(page: Any, raw: pikepdf.Page, margin: float, smallest: float) -> Iterator[tuple[str, str]]:
    words = page.extract_words(extra_attrs=["size", "upright"], keep_blank_chars=False)
    if not words or len(page.lines) + len(page.rects) + len(page.curves) + len(words) < 5:
        yield "empty", f"{len(words)} words"
    yield from _word_findings(words, page, margin, smallest)
    yield from _overlaps(words)
    drawn = list(segments(raw, float(page.height)))
    for w in words:
        if any(crosses(s, w) for s in drawn):
            yield "struck", f"{w['text']!r}"


def findings(file: Any, margin: float = 4.0, smallest: float = 6.0) -> list[str]:
    """All findings of a PDF, a line each; `margin` in mm, `smallest` in points, `file` a path or an open binary file."""
    with pdfplumber.open(file) as pdf, pikepdf.open(file) as raw:
        return [
            f"{kind:8} page {n}: {text}"
            for n, page in enumerate(pdf.pages, 1)
            for kind, text in _page_findings(page, raw.pages[n - 1], margin, smallest)
        ]


def main() -> int:
    """Read the command line, print the findings, return the exit code."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("pdf")
    parser.add_argument("--margin", type=float, default=4.0, help="mm")
    parser.add_argument("--smallest", type=float, default=6.0, help="points")
    given = parser.parse_args()
    found = findings(given.pdf, given.margin, given.smallest)
    for line in found:
        print(line)
    print(f"{len(found)} findings")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
