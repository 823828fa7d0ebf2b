"""Pieces that are all alike: as many as can be cut from one sheet.

Pieces that may lie one way only make a grid, and nothing holds more of them. Those that may be turned are laid in strips
of upright and strips of turned ones; where that falls short of what the area would hold, every division of the sheet is
tried at the sums of the piece's sides, which is where a cut can be taken to lie (Herz 1972, "normal patterns").
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

from bookplates.workshop.cutting.job import Kind, Laid, Layout, Way, turned

MOST_TRIES = 120_000
"""So many divisions are tried at most before the best so far is taken."""

MOST_SUMS = 600
"""With more sums of the sides than this along a sheet, strips alone are tried."""

MOST_ACROSS = 60
"""Nor are they where more pieces than this lie side by side: parts would be divided too often within each other."""


def grids(kind: Kind, number: int, width: int, height: int) -> Iterator[Layout]:
    """The pieces in rows and columns, one layout for each way they may lie."""
    for way in kind.ways:
        across, along = width // way.width, height // way.height
        if across and along:
            yield _block(number, (way.width, way.height), across, along)


def strips(kind: Kind, number: int, width: int, height: int) -> Iterator[Layout]:
    """Rows of upright pieces below rows of turned ones, and columns beside columns, as many as go on."""
    if len(kind.ways) == 2:
        one, other = ((way.width, way.height) for way in kind.ways)
        yield _mixed(number, one, other, width, height)
        yield turned(_mixed(number, one[::-1], other[::-1], height, width))


def _block(kind: int, way: tuple[int, int], across: int, along: int) -> Layout:
    """Pieces in rows and columns."""
    wide, high = way
    return tuple(Laid(kind, column * wide, row * high, wide, high) for row in range(along) for column in range(across))


def _mixed(number: int, one: tuple[int, int], other: tuple[int, int], width: int, height: int) -> Layout:
    rows, others = _rows(one, other, width, height)
    above = _block(number, other, width // other[0], others)
    moved = (laid._replace(bottom=laid.bottom + rows * one[1]) for laid in above)
    return (*_block(number, one, width // one[0], rows), *moved)


def _rows(one: tuple[int, int], other: tuple[int, int], width: int, height: int) -> tuple[int, int]:
    """How many rows of each of two ways hold the most pieces together."""
    across, others = width // one[0], width // other[0]

    def held(rows: int) -> int:
        return rows * across + (height - rows * one[1]) // other[1] * others

    best = max(range(height // one[1] + 1), key=lambda rows: (held(rows), rows))
    return best, (height - best * one[1]) // other[1]


def divided(kind: Kind, number: int, width: int, height: int) -> Iterator[tuple[Layout, bool]]:
    """Divisions of the sheet that hold many, each with whether it is certain that none holds more."""
    for depth, deeper in ((2, 1), (1, 0)):
        divider = Divider(max(kind.ways[0][1:]), min(kind.ways[0][1:]), deeper)
        if len(kind.ways) == 2 and divider.summed(max(width, height)):
            layout = tuple(divider.laid(number, Part(0, 0, width, height), depth))
            yield layout, divider.tries > 0 and not deeper
        else:
            yield (), len(kind.ways) == 1


class Part(NamedTuple):
    """A part of the sheet."""

    left: int
    bottom: int
    width: int
    height: int


@dataclass(slots=True)
class Divider:
    """Divides a sheet for pieces that may be turned.

    Attributes:
        long, short: the sides of a piece.
        deeper: 1 where a depth that is asked for is kept to, 0 where a part is divided as long as that holds more.
        tries: how many divisions may still be tried.
    """

    long: int
    short: int
    deeper: int
    tries: int = MOST_TRIES
    sums: list[int] = field(default_factory=list)
    known: dict[tuple[int, int, int], tuple[int, int, bool]] = field(default_factory=dict)

    def summed(self, most: int) -> bool:
        """Work out the sums of sides up to a length; False where there are too many."""
        if (most // self.long + 1) * (most // self.short + 1) > 2 * MOST_SUMS or most // self.short > MOST_ACROSS:
            return False
        longs = range(0, most + 1, self.long)
        self.sums = sorted({one + other for one in longs for other in range(0, most - one + 1, self.short)})
        return True

    def most(self, width: int, height: int, depth: int) -> tuple[int, int, bool]:
        """How many pieces a part holds; where it is divided (0: in strips), and whether upright."""
        width, height = self._down(width), self._down(height)
        key = (width, height, depth)
        if key not in self.known:
            best = (self._in_strips(width, height), 0, False)
            for upright in (True, False) if depth else ():
                best = self._divided(width, height, depth, upright, best)
            self.known[key] = best
        return self.known[key]

    def _down(self, length: int) -> int:
        """The largest sum of sides within a length: what is beyond it holds nothing."""
        return self.sums[bisect_right(self.sums, length) - 1]

    def _bound(self, width: int, height: int) -> int:
        """What the area holds at most."""
        return width * height // (self.long * self.short) if min(width, height) >= self.short else 0

    def _in_strips(self, width: int, height: int) -> int:
        upright, lying = (self.short, self.long), (self.long, self.short)
        return max(
            sum(rows * (room[0] // way[0]) for rows, way in zip(_rows(one, other, *room), (one, other), strict=True))
            for one, other, room in ((upright, lying, (width, height)), (upright, lying, (height, width)))
        )

    def _divided(self, width: int, height: int, depth: int, upright: bool, best: tuple[int, int, bool]) -> tuple[int, int, bool]:
        whole, other = (width, height) if upright else (height, width)
        bound = self._bound(width, height)
        for at in self.sums[1 : bisect_right(self.sums, whole // 2)]:
            rest = self._down(whole - at)
            if best[0] == bound or self.tries <= 0:
                break
            if self._bound(at, other) + self._bound(rest, other) <= best[0]:
                continue
            self.tries -= 1
            rooms = [(side, other) if upright else (other, side) for side in (at, rest)]
            count = sum(self.most(*room, depth - self.deeper)[0] for room in rooms)
            if count > best[0]:
                best = (count, at, upright)
        return best

    def laid(self, number: int, part: Part, depth: int) -> Iterator[Laid]:
        """The pieces of a part, where they lie."""
        _, at, upright = self.most(part.width, part.height, depth)
        if not at:
            yield from self._laid_in_strips(number, part)
            return
        below = depth - self.deeper
        if upright:
            yield from self.laid(number, part._replace(width=at), below)
            yield from self.laid(number, part._replace(left=part.left + at, width=part.width - at), below)
        else:
            yield from self.laid(number, part._replace(height=at), below)
            yield from self.laid(number, part._replace(bottom=part.bottom + at, height=part.height - at), below)

    def _laid_in_strips(self, number: int, part: Part) -> Iterator[Laid]:
        ways = (Way(False, self.short, self.long), Way(True, self.long, self.short))
        layouts = strips(Kind(ways, 1), number, part.width, part.height)
        for one in max(layouts, key=len):
            yield one._replace(left=part.left + one.left, bottom=part.bottom + one.bottom)
