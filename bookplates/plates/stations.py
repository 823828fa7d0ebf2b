"""The stations of a punch guide: crossed, numbered on both sides, their distances from the head in a column."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain, combinations, pairwise
from math import dist

from bookplates.geometry import Box, Point
from bookplates.kinds.parts import Part
from bookplates.lengths import Units, both
from bookplates.plates.drawing import Label, Layer
from bookplates.plates.marks import NORMAL, SMALL, cross, word
from bookplates.plates.pad import Pad, box_of, box_round

HOLES: Layer = "holes"
"""Where crosses and numbers of the stations are: they say where to prick, as the holes do, and stay when the words are hidden."""

STEP = 1.5
"""How far words are moved on at a time until they find room, mm."""

ROOM = 1.0
"""Least distance of a station's distance from any line, mm."""


def number_stations(pad: Pad, stations: tuple[Part, ...], away: float, distances: tuple[str, ...]) -> None:
    """Cross each station, number it on both sides, `away` mm from its middle, and write its distance from the head beside it."""
    size = NORMAL if _nearest(stations) > 1.5 * NORMAL else SMALL
    middles = [station.box.middle for station in stations]
    pad.put(*(stroke for middle in middles for stroke in cross(middle, away - 1.0, HOLES)))
    for number, (x, y) in enumerate(middles, 1):
        numeral = word(str(number), size, bold=True, layer=HOLES)
        _level(pad, numeral, (x - away, y), -STEP)
        _level(pad, numeral, (x + away, y), STEP)
    _column(pad, [(x + away + 5.0, y) for x, y in middles], distances, size)


def number_rows(pad: Pad, rows: Sequence[tuple[Part, ...]], away: float, distances: tuple[str, ...]) -> None:
    """Several rows with stations at the same heights, the same count in each: as `number_stations`, one number a level.

    The numbers stand either side of all rows; crosses are no wider than the rows leave room for.
    """
    across = sorted(row[0].box.middle[0] for row in rows)
    arm = min(away - 1.0, max(0.4, 0.4 * min(b - a for a, b in pairwise(across))))
    size = NORMAL if _nearest(rows[0]) > 1.5 * NORMAL else SMALL
    pad.put(*(stroke for row in rows for station in row for stroke in cross(station.box.middle, arm, HOLES)))
    heights = [station.box.middle[1] for station in rows[0]]
    for number, y in enumerate(heights, 1):
        numeral = word(str(number), size, bold=True, layer=HOLES)
        _level(pad, numeral, (across[0] - away, y), -STEP)
        _level(pad, numeral, (across[-1] + away, y), STEP)
    _column(pad, [(across[-1] + away + 5.0, y) for y in heights], distances, size)


def number_holes(pad: Pad, holes: tuple[Part, ...], away: float, head: float, units: Units) -> None:
    """Holes that need not stand in one row: as `number_stations`, each height's distance from `head` written once."""
    middles = [hole.box.middle for hole in holes]
    nearest = min((dist(one, other) for one, other in combinations(middles, 2)), default=100.0)
    size, arm = NORMAL if nearest > 1.5 * NORMAL else SMALL, min(away - 1.0, 0.4 * nearest)
    pad.put(*(stroke for middle in middles for stroke in cross(middle, arm, HOLES)))
    for number, (x, y) in enumerate(middles, 1):
        numeral = word(str(number), size, bold=True, layer=HOLES)
        _level(pad, numeral, (x - away, y), -STEP)
        _level(pad, numeral, (x + away, y), STEP)
    heights = {round(y, 6): y for _, y in sorted(middles, key=lambda middle: -middle[1])}.values()
    column = max(x for x, _ in middles) + away + 5.0
    _column(pad, [(column, y) for y in heights], tuple(both(head - y, units) for y in heights), size)


def _level(pad: Pad, words: tuple[Label, ...], start: Point, step: float) -> None:
    """Put words level with a station, beginning at `start` or as few steps further as there is room."""
    wide, high = box_round(words).size
    left = start[0] - (wide if step < 0 else 0.0)
    pad.settle(words, ((left + step * k, start[1] - high / 2) for k in range(400)))


def _column(pad: Pad, starts: list[Point], texts: tuple[str, ...], largest: float) -> None:
    """Put a text level with each start, all as far to the right of it as the first room for the whole column wants."""
    sizes = sorted({largest, SMALL}, reverse=True)
    for column in chain(_columns(starts, texts, sizes, 8), _columns(starts, texts, sizes[:1], 400)):
        if all(pad.free(box_of(label), ROOM) for label in column):
            pad.put(*column)
            return


def _columns(starts: list[Point], texts: tuple[str, ...], sizes: list[float], steps: int) -> Iterator[list[Label]]:
    for size in sizes:
        for step in range(steps):
            yield [_at(text, size, (x + STEP * step, y)) for text, (x, y) in zip(texts, starts, strict=True)]


def _at(text: str, size: float, start: Point) -> Label:
    """Words whose middle height is that of `start` and which begin there."""
    return Label(text, (start[0], start[1] - box_of(Label(text, (0.0, 0.0), size)).middle[1]), size, layer="dimensions")


def _nearest(stations: tuple[Part, ...]) -> float:
    """The smallest distance between neighbouring stations, mm."""
    heights = [station.box.middle[1] for station in stations]
    return min((abs(b - a) for a, b in pairwise(heights)), default=100.0)


def above_first(stations: tuple[Part, ...], paper: Box) -> Box:
    """What lies above the first station, at the head of the paper."""
    first = max(station.box.top for station in stations)
    return Box(paper.left, first, paper.right, paper.top)
