"""Noble sewing: the main holes, and one more near each corner, which makes the corners strong.

All of the pattern is from memory: the corner hole at half the inset and at half the outer hole's distance from the end,
wrapped round the spine and round head or tail, and joined to the outer main hole by a slanting stitch on both faces.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import ClassVar, Literal

from bookplates.geometry import Point
from bookplates.kinds.patterns.base import NEAREST
from bookplates.kinds.patterns.side_needle import Branch
from bookplates.kinds.patterns.side_sewing import SideStitch


def corners(inset: float, stations: Sequence[float], height: float) -> tuple[Point, Point]:
    """The holes near the corners at head and tail: halfway from the outer main holes to the corner, mm; from memory.

    >>> corners(10, (30, 60, 90, 120), 150)
    ((5.0, 15.0), (5.0, 135.0))
    """
    return (inset / 2, stations[0] / 2), (inset / 2, (height + stations[-1]) / 2)


class Noble(SideStitch):
    """Keys of [sewing] for pattern "noble"."""

    pattern: Literal["noble"] = "noble"

    called: ClassVar[str] = "noble side sewing (stab)"

    def extra(self, stations: Sequence[float], height: float) -> tuple[Point, ...]:
        """One near each corner."""
        return corners(self.inset, stations, height)

    def branches(self, count: int) -> Mapping[int, tuple[Branch, ...]]:
        """To the corners, from the outer holes."""
        return {1: (Branch(count + 1, ("spine", "head")),), count: (Branch(count + 2, ("spine", "tail")),)}

    @property
    def least_inset(self) -> float:
        """Twice what half of it needs, mm."""
        return 2 * NEAREST

    @property
    def least_end(self) -> float:
        """Twice what half of it needs, mm."""
        return 2 * NEAREST
