"""A sewing as a path of thread: leg after leg, each from where the last one ended.

Length, written steps and pictures all come from the same legs, so they cannot disagree.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Side = Literal["inside", "outside"]
Deed = Literal["run", "pass", "loop", "link", "hitch", "end"]


@dataclass(frozen=True, slots=True)
class Place:
    """Where the thread is: at a station, counted from 1 at the head, on one side of the fold."""

    station: int
    side: Side


@dataclass(frozen=True, slots=True)
class Leg:
    """A stretch of thread.

    Attributes:
        start, end: where it goes from and to.
        deed: ``run`` along one side; ``pass`` through a hole; ``loop`` left standing; ``link`` round another
            stitch; ``hitch`` a half hitch or knot; ``end`` a free end.
        length: thread it takes, mm, allowances included.
        through: how much material it goes through, mm; 0 unless it is a pass.
    """

    start: Place
    end: Place
    deed: Deed
    length: float
    through: float = 0.0


@dataclass(frozen=True, slots=True)
class SewingStep:
    """One thing to do with the needle, and how many legs of the path are sewn when it is done."""

    text: str
    legs_done: int


@dataclass(frozen=True, slots=True)
class ThreadPath:
    """The whole sewing."""

    legs: tuple[Leg, ...]
    steps: tuple[SewingStep, ...]

    @property
    def length(self) -> float:
        """Thread it takes, both free ends included, mm."""
        return sum(leg.length for leg in self.legs)
