"""Tortoise shell sewing: the main holes, and two more beside each of them, with slanting stitches to both.

All of the pattern is from memory: the extra holes at half the inset, as far above and below their main hole as they
are nearer to the spine (the slanting stitches stand at 45 degrees), each wrapped once round the spine.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import ClassVar, Literal

from bookplates.geometry import Point
from bookplates.kinds.patterns.base import NEAREST
from bookplates.kinds.patterns.side_needle import Branch
from bookplates.kinds.patterns.side_sewing import SideStitch


class TortoiseShell(SideStitch):
    """Keys of [sewing] for pattern "tortoise shell"."""

    pattern: Literal["tortoise shell"] = "tortoise shell"

    called: ClassVar[str] = "tortoise shell side sewing (stab)"

    def extra(self, stations: Sequence[float], height: float) -> tuple[Point, ...]:  # noqa: ARG002  # none near the corners
        """From head to tail, one above and one below each main hole."""
        half = self.inset / 2
        return tuple((half, station + along) for station in stations for along in (-half, half))

    def branches(self, count: int) -> Mapping[int, tuple[Branch, ...]]:
        """To the one above, then to the one below."""
        return {n: tuple(Branch(count + 2 * n + last, ("spine",)) for last in (-1, 0)) for n in range(1, count + 1)}

    @property
    def least_inset(self) -> float:
        """Twice what half of it needs, mm."""
        return 2 * NEAREST

    @property
    def least_end(self) -> float:
        """What stands above the first hole, mm, and room above that."""
        return self.inset / 2 + NEAREST

    @property
    def least_apart(self) -> float:
        """What stands below one hole and above the next, mm, and room between."""
        return self.inset + NEAREST
