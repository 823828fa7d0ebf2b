"""Dimensions after ISO 129-1: extension lines, filled arrowheads, figures above the line. Lengths in mm.

Figures read from below or from the right of the page; they stand beside the line where they are longer than it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from bookplates.geometry import Box, Matrix, Point, bounds
from bookplates.letters import width
from bookplates.plates.drawing import Anchor, Item, Label, Layer, Stroke
from bookplates.plates.marks import ARROW, NORMAL, SMALL, arrow, word
from bookplates.plates.pad import CLEAR, Pad, box_of, box_round, mapped, spots, touches
from bookplates.plates.words import Where

LAYER: Layer = "dimensions"
FIRST, STEP = 6.0, 5.5
"""How far the first dimension line stands off the parts, and the next off that."""


def dimension(pad: Pad, start: Point, end: Point, text: str, where: Where) -> None:
    """Dimension the distance of two points across ("above", "below") or along ("left", "right") the drawing.

    Outside the parts unless that makes the drawing too large for its page, then inside; where neither has
    room for the words, they are kept for the notes.
    """
    for clean in (True, False):
        for way in _ways(pad, start, end, text, where):
            if _goes(pad, way, clean):
                pad.put(*way)
                return
    pad.untold.append(text)


def overall(pad: Pad, box: Box, width: str, height: str) -> None:
    """Dimension the width and the height of a piece, below it and at its left."""
    dimension(pad, (box.left, box.bottom), (box.right, box.bottom), width, "below")
    dimension(pad, (box.left, box.bottom), (box.left, box.top), height, "left")


def _ways(pad: Pad, start: Point, end: Point, text: str, where: Where) -> Iterator[tuple[Item, ...]]:
    """The places a dimension may take, best first: set out level, on the side its figures stand, and turned back."""
    angle = pad.upright if where in ("left", "right") else 0.0
    side = 1.0 if where in ("above", "left" if angle > 0 else "right") else -1.0
    flat, back = Matrix.turn(-angle), Matrix.turn(angle)
    low, high = sorted((flat.at(start), flat.at(end)))
    core = bounds(map(flat.at, pad.core.corners))
    edge = core.top if side > 0 else core.bottom
    middles = _middles(pad, low[0], high[0], angle)
    for offset in (*(FIRST + STEP * step for step in range(6)), *(-FIRST - STEP * step for step in range(8))):
        v = edge + side * offset
        level = _level((low, high), v, text, side, angle) if angle else ()
        for drawn in (*_along(low, high, v, text, middles), *level, *_off(low, high, v, text)):
            yield tuple(mapped(item, back, angle) for item in drawn)


def _middles(pad: Pad, low: float, high: float, angle: float) -> list[float]:
    """Where on a dimension line its words may stand: its middle, and the middle of what it has on each page."""
    seams: list[float] = []
    if pad.grid:
        seams = list(pad.grid.along.seams if angle else pad.grid.across.seams)
    cuts = sorted(-seam if angle < 0 else seam for seam in seams)
    edges = [low, *(cut for cut in cuts if low < cut < high), high]
    pieces = [(start + end) / 2 for start, end in pairwise(edges)]
    return list(dict.fromkeys(((low + high) / 2, *pieces)))


def _along(low: Point, high: Point, v: float, text: str, middles: Sequence[float]) -> Iterator[tuple[Item, ...]]:
    """The words over the dimension line at height `v`, where they are not longer than it."""
    for size in (NORMAL, SMALL):
        if width(text, size) <= high[0] - low[0] - 1.0:
            for middle in middles:
                yield (*_lines(low, high, v), Label(text, (middle, v + 1.2), size, "middle", layer=LAYER))


def _level(ends: tuple[Point, Point], v: float, text: str, side: float, angle: float) -> Iterator[tuple[Item, ...]]:
    """The words of an upright dimension level beside its middle, on the side away from the drawing."""
    low, high = ends
    way = 1.0 if angle > 0 else -1.0
    anchor: Anchor = "end" if side * way > 0 else "start"
    at = (low[0] + high[0]) / 2 - way * 0.33 * NORMAL, v + 2.4 * side
    yield (*_lines(low, high, v), Label(text, at, NORMAL, anchor, -angle, layer=LAYER))


def _off(low: Point, high: Point, v: float, text: str) -> Iterator[tuple[Item, ...]]:
    """The words before or after the dimension line, in line with it."""
    out = 1.5 + (5.0 if high[0] - low[0] < 3 * ARROW else 0.0)
    for size in (NORMAL, SMALL):
        yield (*_lines(low, high, v), Label(text, (high[0] + out, v - 0.33 * size), size, "start", layer=LAYER))
        yield (*_lines(low, high, v), Label(text, (low[0] - out, v - 0.33 * size), size, "end", layer=LAYER))


def _lines(low: Point, high: Point, v: float) -> tuple[Item, ...]:
    """Lines from a little off the two points to a little past the dimension line, then that with its arrowheads."""
    ways = ((u, start, 1.0 if v > start else -1.0) for u, start in (low, high))
    extensions = tuple(Stroke(((u, start + way), (u, v + 1.5 * way)), "thin", layer=LAYER) for u, start, way in ways)
    left, right = low[0], high[0]
    if right - left >= 3 * ARROW:
        return (*extensions, *arrow((left, v), (right, v), True, LAYER))
    return (*extensions, *arrow((left - 5, v), (left, v), layer=LAYER), *arrow((right + 5, v), (right, v), layer=LAYER))


def _goes(pad: Pad, way: tuple[Item, ...], clean: bool) -> bool:
    """Whether a dimension may be put there; `clean` asks that its line crosses no other line either."""
    label, line = box_of(way[-1]), [box_of(item) for item in way[2:-1]]
    if pad.spoils(box_round(way)) or not pad.free(label) or pad.strikes(way):
        return False
    return not clean or all(pad.clear_of(box, 0.3) for box in line)


def slanted_dimension(pad: Pad, start: Point, end: Point, text: str, room: Box) -> None:
    """Dimension a short slanted distance by two arrows from outside, its words in the room, if they go there."""
    span = math.dist(start, end)
    dx, dy = (end[0] - start[0]) / span, (end[1] - start[1]) / span
    far = end[0] + 6 * dx, end[1] + 6 * dy
    arrows = (*arrow((start[0] - 6 * dx, start[1] - 6 * dy), start, layer=LAYER), *arrow(far, end, layer=LAYER))
    if pad.strikes(arrows):
        return
    for size in (NORMAL, SMALL):
        letters = word(text, size, layer=LAYER)
        clear = (corner for corner in spots(room, box_round(letters).size, far) if not _met(letters, corner, arrows))
        if pad.settle(letters, clear):
            pad.put(*arrows)
            return


def _met(letters: Sequence[Item], corner: Point, items: Sequence[Item]) -> bool:
    """Whether the items come too near to words whose lower left corner is put there."""
    wide, high = box_round(letters).size
    box = Box(*corner, corner[0] + wide, corner[1] + high).grown(CLEAR)
    return any(touches(item, box) for item in items)
