"""Where a sewing goes through, as a cover sees it; and what the needle meets of a cover. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass

from bookplates.geometry import Point


@dataclass(frozen=True, slots=True)
class Seam:
    """The stations and holes of a sewing, and its thread.

    Attributes:
        stations: from the head of the leaf, in order; none for a book that is not sewn.
        holes: of a side-sewn book, x from the spine edge, y from the head of the leaf; else none. The first of them are
            the stations, all of them are counted from 1 as they stand here.
        hole: diameter the holes are drawn.
        inset: of stations that are not in a fold: from the spine edge of the leaves or boards to their row.
        supports: sewing tapes on the spine, upper and lower edge of each from the head of the leaf.
        thread: its thickness.
        thread_end: left at each end.
    """

    stations: tuple[float, ...]
    holes: tuple[Point, ...] = ()
    hole: float = 0.0
    inset: float = 0.0
    supports: tuple[tuple[float, float], ...] = ()
    thread: float = 0.0
    thread_end: float = 0.0


@dataclass(frozen=True, slots=True)
class Sewn:
    """What the needle meets of a cover.

    Attributes:
        spine: passed together with the fold at each station (a tape, a card); 0 where only the text block is sewn.
        board: thickness of each of two boards or cards that are sewn to the block with holes of their own.
        head, tail: how far the cover stands beyond the leaves there.
    """

    spine: float = 0.0
    board: float = 0.0
    head: float = 0.0
    tail: float = 0.0
