"""The stations of a punch guide: crossed, numbered on both sides, their distances from the head in a column."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain, pairwise

from bookplates.geometry import Box, Point
from bookplates.kinds.parts import Part
from bookplates.plates.drawing import Label
from bookplates.plates.marks import NORMAL, SMALL, cross, word
from bookplates.plates.pad import Pad, box_of, box_round

STEP = 1.5
"""How far words are moved on at a time until they find room, mm."""

ROOM = 1.0
"""Least distance of a station's distance from any line, mm."""


def number_stations(pad: Pad, stations: tuple[Part, ...], away: float, distances: tuple[str, ...]) -> None:
    """Cross each station, number it on both sides, `away` mm from its middle, and write its distance from the head beside it."""
    size = NORMAL if _nearest(stations) > 1.5 * NORMAL else SMALL
    middles = [station.box.middle for station in stations]
    for number, (x, y) in enumerate(middles, 1):
        numeral = word(str(number), size, bold=True)
        pad.put(*cross((x, y), away - 1.0))
        _level(pad, numeral, (x - away, y), -STEP)
        _level(pad, numeral, (x + away, y), STEP)
    _column(pad, [(x + away + 5.0, y) for x, y in middles], distances, size)


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
    return Label(text, (start[0], start[1] - box_of(Label(text, (0.0, 0.0), size)).middle[1]), size)


def _nearest(stations: tuple[Part, ...]) -> float:
    """The smallest distance between neighbouring stations, mm."""
    heights = [station.box.middle[1] for station in stations]
    return min((abs(b - a) for a, b in pairwise(heights)), default=100.0)


def above_first(stations: tuple[Part, ...], paper: Box) -> Box:
    """What lies above the first station, at the head of the paper."""
    first = max(station.box.top for station in stations)
    return Box(paper.left, first, paper.right, paper.top)
