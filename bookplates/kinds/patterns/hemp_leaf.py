"""Hemp leaf sewing: the noble pattern, and a hole between each two main holes, with slanting stitches to both.

All of the pattern is from memory: the holes between at half the inset and halfway along, each wrapped once round the spine.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import ClassVar, Literal

from bookplates.geometry import Point
from bookplates.kinds.patterns.base import NEAREST
from bookplates.kinds.patterns.noble import corners
from bookplates.kinds.patterns.side_needle import Branch
from bookplates.kinds.patterns.side_sewing import SideStitch


class HempLeaf(SideStitch):
    """Keys of [sewing] for pattern "hemp leaf"."""

    pattern: Literal["hemp leaf"] = "hemp leaf"

    called: ClassVar[str] = "hemp leaf side sewing (stab)"

    def extra(self, stations: Sequence[float], height: float) -> tuple[Point, ...]:
        """From head to tail: one near the corner, those between the main holes, one near the other corner."""
        head, tail = corners(self.inset, stations, height)
        return (head, *((self.inset / 2, (upper + lower) / 2) for upper, lower in pairwise(stations)), tail)

    def branches(self, count: int) -> Mapping[int, tuple[Branch, ...]]:
        """To the extra holes above and below; the wrap of a hole between is sewn with the first of its two stitches."""
        above = {1: Branch(count + 1, ("spine", "head"))} | {n: Branch(count + n) for n in range(2, count + 1)}
        below = {n: Branch(count + n + 1, ("spine",)) for n in range(1, count)} | {
            count: Branch(2 * count + 1, ("spine", "tail"))
        }
        return {n: (above[n], below[n]) for n in range(1, count + 1)}

    @property
    def least_inset(self) -> float:
        """Twice what half of it needs, mm."""
        return 2 * NEAREST

    @property
    def least_end(self) -> float:
        """Twice what half of it needs, mm."""
        return 2 * NEAREST
