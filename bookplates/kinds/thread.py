"""A sewing as a path of thread: leg after leg, each from where the last one ended.

Length, written steps and pictures all come from the same legs, so they cannot disagree.

Sections are counted from 1 at the front; of a cover whose boards are sewn on, the front board counts as
section 0, the back board as the one after the last. A book sewn through its side has one section, whose sides are
``front`` and ``back``; a fold has ``inside`` and ``outside``.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import Literal

Side = Literal["inside", "outside", "front", "back"]
Deed = Literal["run", "pass", "loop", "link", "hitch", "knot", "climb", "wrap", "end"]
Edge = Literal["", "spine", "head", "tail"]

OTHER: dict[Side, Side] = {"inside": "outside", "outside": "inside", "front": "back", "back": "front"}


@dataclass(frozen=True, slots=True)
class Place:
    """Where the thread is: at a station or hole, counted from 1 in the plan's order, on one side of a section."""

    station: int
    side: Side
    section: int = 1


@dataclass(frozen=True, slots=True)
class Leg:
    """A stretch of thread.

    Attributes:
        start, end: where it goes from and to.
        deed: ``run`` along one side; ``pass`` through a hole; ``loop`` left standing; ``link`` round another
            stitch, and where it ends at another station, made halfway on the way there; ``hitch`` a half hitch round a
            stitch; ``knot`` tied to the first free end; ``climb`` outside to another section or a board; ``wrap`` round
            an edge of the book to its other side; ``end`` a free end.
        length: thread it takes, mm, allowances included.
        through: how much material it goes through, mm; 0 unless it is a pass.
        edge: what a wrap goes round.
        linked: the section whose stitch a link or hitch goes round, or whose thread end a knot ties; None where it is the
            thread's own.
    """

    start: Place
    end: Place
    deed: Deed
    length: float
    through: float = 0.0
    edge: Edge = ""
    linked: int | None = None


@dataclass(frozen=True, slots=True)
class SewingStep:
    """One thing to do with the needle.

    Attributes:
        text: what is done.
        legs_done: how many legs of the path are sewn then.
        ties_first: whether the first free end is hitched to a stitch now, its hitch being the path's second leg: the
            stitch it goes round has to be sewn before.
    """

    text: str
    legs_done: int
    ties_first: bool = False


@dataclass(frozen=True, slots=True)
class ThreadPath:
    """The whole sewing."""

    legs: tuple[Leg, ...] = ()
    steps: tuple[SewingStep, ...] = ()

    @property
    def length(self) -> float:
        """Thread it takes, both free ends included, mm."""
        return sum(leg.length for leg in self.legs)

    @property
    def passes(self) -> Counter[tuple[int, int]]:
        """How often the thread goes through each hole, by section and station."""
        return Counter((leg.start.section, leg.start.station) for leg in self.legs if leg.deed == "pass")
